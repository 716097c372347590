"""Which thing gets which place, so that what passes between the things has the shortest way.

The quadratic assignment problem of Koopmans and Beckmann, searched by robust tabu. The bounds known
for it lie too far below to prove anything, so the answer says only how many starts agree.
"""

from __future__ import annotations

import numpy as np

from planner.problems import Limit

from ..options import Assignment
from .tabu import Found, search
from .terms import Array, seating_of

CHAINS = 8
FEW_THINGS = 30
CHAINS_OF_MANY = 4


def assign(flow: Array, distance: Array, *, limit: Limit, seed: int = 0) -> Assignment:
    """Return the best permutation found: thing i gets place p[i], least Σ flow[i,j] · distance[p[i],p[j]].

    Whole numbers are added exactly; with others the sums are made anew every 10,000 steps. One step
    of `limit.effort` is one swap of one chain. `watch` hears of each better Assignment.
    """
    seating, times = seating_of(flow, distance)
    rng = np.random.default_rng(seed)
    starts = np.array([rng.permutation(seating.size) for _ in range(chains_for(seating.size))])

    def answer(found: Found) -> Assignment:
        cost = int(found.cost) // times if seating.whole else float(found.cost) / times
        return Assignment(found.places, cost, found.agree)

    watch = limit.watch
    tell = None if watch is None else lambda found: watch(answer(found))
    return answer(search(seating, starts=starts, limit=limit, seed=seed, tell=tell))


def chains_for(size: int) -> int:
    """Return how many starts are searched side by side: fewer where each step is long."""
    return CHAINS if size <= FEW_THINGS else CHAINS_OF_MANY
