"""Robust tabu search: every swap of two things is weighed at each step, and the best open one is made.

After E. Taillard, "Robust taboo search for the quadratic assignment problem", Parallel Computing 17
(1991) 443-455. The gains of all swaps are kept up by rank-1 updates; several chains, each from a start
of its own, go forward together, so that they tell how far they agree. Equal gains are decided by lot.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from time import monotonic
from typing import Any

import numpy as np

from planner.problems import Limit

from .terms import BARRED, Array, Pairs, Seating

LOTS = 64
TOLD_EVERY = 16
REBUILT_EVERY = 10_000
DRAWN = 4096


@dataclass(frozen=True)
class Found:
    """The best places found, one a thing, and how many of the chains came to that cost."""

    places: tuple[int, ...]
    cost: float
    agree: int
    chains: int


def search(
    seating: Seating, *, starts: Array, limit: Limit, seed: int, tell: Callable[[Found], bool] | None = None
) -> Found:
    """Return the best of so many chains, one for each row of `starts`; one step is one swap of one chain.

    `tell` hears of each better answer; returning False stops the search.
    """
    chains = Chains(seating, starts, np.random.default_rng(seed))
    until = None if limit.seconds is None else monotonic() + limit.seconds
    rounds = None if limit.effort is None else max(1, limit.effort // len(starts))
    told = chains.best.min()
    while not chains.stuck and (rounds is None or chains.round < rounds):
        chains.step()
        if chains.round % TOLD_EVERY == 0 or chains.round == rounds:
            if tell is not None and chains.best.min() < told:
                told = chains.best.min()
                if tell(chains.found()) is False:
                    break
            if until is not None and monotonic() >= until:
                break
    return chains.found()


class Chains:
    """Several tabu searches side by side; axis 0 of every array is the chain.

    `gains` are reckoned from `pull`, where pull[i, j] is what thing i would add at the place that j
    has now, twice over for pairs.
    """

    def __init__(self, seating: Seating, starts: Array, rng: np.random.Generator) -> None:
        kind = seating.kind
        self.seating, self.rng, self.round = seating, rng, 0
        self.size, self.count = seating.size, len(starts)
        self.pairs = [
            Pairs(each.flow.astype(kind), each.distance.astype(kind), each.mirrored) for each in seating.pairs
        ]
        self.alone = seating.alone.astype(kind)
        self.places = starts.copy()
        self.cost = seating.cost(starts)
        self.best, self.best_places = self.cost.copy(), starts.copy()
        # A swap unmade for so long is made whatever it costs; at the start some are due soon, some late.
        self.forget = max(1, self.size**2 // 2)
        shape = (self.count, self.size, self.size)
        self.until = -rng.integers(0, self.forget, size=shape, dtype=np.int32)
        self.rows = np.arange(self.count)
        self._draw_lots(kind)
        self._rebuild()
        self.gain = np.empty_like(self.pull)
        self.score = np.empty(self.pull.shape, dtype=np.float32 if kind is np.float32 else np.float64)
        self.stuck = self.size < 2 or not self._has_an_open_swap()

    def step(self) -> None:
        """Make the best swap that is open in each chain."""
        self.round += 1
        self._weigh()
        u, v = np.divmod(self._choose(), self.size)
        self.cost = self.cost + self.gain[self.rows, u, v]
        self._swap(np.stack((u, v), axis=1))
        better = self.cost < self.best
        if better.any():
            self.best = np.where(better, self.cost, self.best)
            self.best_places[better] = self.places[better]
        if not self.seating.whole and self.round % REBUILT_EVERY == 0:
            self.cost = self.seating.cost(self.places)
            self._rebuild()

    def found(self) -> Found:
        """Return the best so far; of equals the first by its places."""
        costs = self.seating.cost(self.best_places)
        least = costs.min()
        same = costs <= least if self.seating.whole else np.isclose(costs, least, rtol=1e-9)
        places = min(tuple(int(k) for k in row) for row in self.best_places[same])
        return Found(places, least, int(same.sum()), self.count)

    def _draw_lots(self, kind: Any) -> None:
        """Lots decide between equal gains; whole gains differ by 1 at least, so they decide nothing else.

        The endless lots leave one of (u, v) and (v, u).
        """
        shape = (self.count + LOTS - 1, self.size, self.size)
        small = 0.9 if self.seating.whole else 1e-12 * self.seating.reach
        self.lots = (self.rng.random(shape) * small).astype(np.float32 if kind is np.float32 else np.float64)
        self.lots[:, ~np.triu(np.ones((self.size, self.size), dtype=bool), 1)] = BARRED
        self.lot_of = self.rng.integers(0, LOTS, size=DRAWN)
        least, most = max(1, int(0.9 * self.size)), int(1.1 * self.size) + 2
        self.tenures = self.rng.integers(least, most, size=(DRAWN, self.count, 2))

    def _rebuild(self) -> None:
        """Reckon pull and seated distances from scratch."""
        p = self.places
        self.seated = [each.distance[p[:, :, None], p[:, None, :]] for each in self.pairs]
        self.pull = self.alone[np.arange(self.size)[None, :, None], p[:, None, :]]
        for each, seated in zip(self.pairs, self.seated, strict=True):
            sign = 2 if each.mirrored else -2
            self.pull = self.pull + sign * (each.flow @ seated)

    def _weigh(self) -> None:
        """Reckon what every swap would add to the cost."""
        gain, pull = self.gain, self.pull
        np.add(pull, pull.transpose(0, 2, 1), out=gain)
        for each, seated in zip(self.pairs, self.seated, strict=True):
            if each.mirrored:
                np.add(gain, 4 * each.flow * seated, out=gain)
        own = np.einsum("cii->ci", pull)
        np.subtract(gain, own[:, :, None], out=gain)
        np.subtract(gain, own[:, None, :], out=gain)

    def _choose(self) -> Array:
        """Choose the best swap of each chain: open, or better than all before, or long unmade."""
        until, back = self.until, self.until.transpose(0, 2, 1)
        closed = np.minimum(until, back) > self.round
        closed &= self.gain >= (self.best - self.cost)[:, None, None]
        lot = self.lot_of[self.round % DRAWN]
        np.add(self.gain, self.lots[lot : lot + self.count], out=self.score)
        if self.round % TOLD_EVERY == 0:
            self.score[np.maximum(until, back) < self.round - self.forget] -= self.score.dtype.type(2**40)
        self.score[closed] = BARRED
        return np.asarray(self.score.reshape(self.count, -1).argmin(axis=1))

    def _swap(self, uv: Array) -> None:
        """Let two things of each chain trade places, and keep up what the gains are reckoned from."""
        chain, vu = self.rows[:, None], uv[:, ::-1]
        u, v = uv[:, 0], uv[:, 1]
        for each, seated in zip(self.pairs, self.seated, strict=True):
            sign = 2 if each.mirrored else -2
            left = sign * (each.flow[:, u] - each.flow[:, v]).T
            right = seated[self.rows, v] - seated[self.rows, u]
            self.pull += left[:, :, None] * right[:, None, :]
        self.pull[chain, :, uv] = self.pull[chain, :, vu]
        self.until[chain, :, uv] = self.until[chain, :, vu]
        self.until[chain, uv, vu] = self.round + self.tenures[self.round % DRAWN]
        self.places[chain, uv] = self.places[chain, vu]
        for each, seated in zip(self.pairs, self.seated, strict=True):
            rows = each.distance[self.places[chain, uv][:, :, None], self.places[:, None, :]]
            seated[chain, uv] = rows
            seated[chain, :, uv] = rows if each.mirrored else -rows

    def _has_an_open_swap(self) -> bool:
        """Say whether any two things may have each other's place."""
        self._weigh()
        return bool(np.isfinite(self.gain + self.lots[: self.count]).any())
