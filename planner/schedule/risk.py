"""How likely each order is on time when the work takes longer or shorter than entered."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from copy import copy

import numpy as np
import numpy.typing as npt

from planner.problems import BadInput
from planner.schedule.dispatch import dispatch
from planner.schedule.floor import Floor, finish_days
from planner.schedule.timetable import Timetable
from planner.schedule.workload import MINUTES_IN_A_DAY, Workload

Days = npt.NDArray[np.int64]


def risk(
    workload: Workload, timetable: Timetable, *, bias: float, samples: int, seed: int = 0
) -> Mapping[str, float]:
    """Return the share of samples, 0 to 1, in which each order with a due is on time.

    In a sample all estimates are off by one shared factor (log-normal, `bias` its spread on the log
    scale), each stage by one more of its own spread, and each wait by its own in days. The work is
    then dispatched anew in the timetable's order of priority, as people would go on working by it.
    """
    if samples < 1:
        raise BadInput("samples", "take at least one sample.")
    if bias < 0:
        raise BadInput("bias", "cannot be below 0.")
    floor = Floor(workload)
    keys = _keys(floor, timetable)
    rng = np.random.default_rng(seed)
    efforts = _efforts(floor, bias, samples, rng)
    waits = _Waits(floor, samples, rng)
    on_time = np.zeros(len(floor.orders), dtype=np.int64)
    dues = _dues(floor)
    for n in range(samples):
        sampled = copy(floor)
        sampled.effort = efforts[n].tolist()
        waits.put_into(sampled, n)
        run = dispatch(sampled, keys)
        late_or_open = _open_orders(floor, run.done)
        on_time += (np.array(finish_days(floor, run.done)) <= dues) & ~late_or_open
    asked = {due.order for due in workload.dues}
    return {
        order: float(count) / samples
        for order, count in zip(floor.orders, on_time.tolist(), strict=True)
        if order in asked
    }


def _keys(floor: Floor, timetable: Timetable) -> list[int]:
    last = len(timetable.priority)
    return [timetable.priority.get(stage.id, last) for stage in floor.stages]


def _efforts(floor: Floor, bias: float, samples: int, rng: np.random.Generator) -> Days:
    """Return sampled minutes, a row a sample; work stays work, and none grows beyond 60 days' hours."""
    minutes = np.array(floor.effort, dtype=np.float64)
    spread = np.array([stage.spread for stage in floor.stages], dtype=np.float64)
    shared = rng.standard_normal((samples, 1)) * bias
    own = rng.standard_normal((samples, len(minutes))) * spread
    factor = np.exp(np.clip(shared + own, -4, 4))
    sampled = np.rint(minutes * factor).astype(np.int64)
    return np.where(minutes > 0, np.clip(sampled, 1, 60 * MINUTES_IN_A_DAY), 0)


class _Waits:
    """Sampled days of waiting; only waits with a spread differ between samples."""

    def __init__(self, floor: Floor, samples: int, rng: np.random.Generator) -> None:
        spreads: dict[tuple[int, int], float] = {}
        for wait in floor.workload.waits:
            pair = floor.number[wait.before], floor.number[wait.after]
            spreads[pair] = max(wait.spread, spreads.get(pair, 0))
        self.pairs = sorted(pair for pair, spread in spreads.items() if spread)
        spread = np.array([spreads[pair] for pair in self.pairs], dtype=np.float64)
        self.shifts = np.rint(rng.standard_normal((samples, len(self.pairs))) * spread).astype(np.int64)

    def put_into(self, floor: Floor, sample: int) -> None:
        """Replace the waits of a copied floor by those of a sample; none falls below a day it had."""
        if not self.pairs:
            return
        shift = dict(zip(self.pairs, self.shifts[sample].tolist(), strict=True))
        floor.after = [
            [(later, max(min(days, 1), days + shift.get((s, later), 0))) for later, days in row]
            for s, row in enumerate(floor.after)
        ]


def _dues(floor: Floor) -> Days:
    days = {due.order: due.day for due in floor.workload.dues}
    return np.array([days.get(order, floor.days) for order in floor.orders], dtype=np.int64)


def _open_orders(floor: Floor, done: Sequence[int]) -> npt.NDArray[np.bool_]:
    unfinished = np.zeros(len(floor.orders), dtype=np.bool_)
    unfinished[[floor.order_of[s] for s, instant in enumerate(done) if instant < 0]] = True
    return unfinished
