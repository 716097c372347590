"""Several ways to take an order, each with the day it makes possible, told as soon as it is known."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from planner.problems import Impossible, Limit, Undecided
from planner.schedule.promise import Promise, promise_knowing
from planner.schedule.timetable import Timetable
from planner.schedule.workload import NewOrder, Workload


def options(
    ways: Mapping[str, tuple[Workload, NewOrder]], *, limit: Limit, seed: int = 0
) -> Iterator[tuple[str, Promise | Impossible | Undecided]]:
    """Yield the promise of each way in the order given, each searched with the whole limit.

    A timetable of an earlier way that can be worked as it stands in a later one is inherited, so that
    more hours never make the day later: a plan without overtime is one with overtime, too.
    """
    known: list[Timetable] = []
    for name, (workload, new) in ways.items():
        answer = promise_knowing(workload, new, tuple(known), limit=limit, seed=seed)
        if isinstance(answer, Promise):
            known.append(answer.timetable)
        yield name, answer
