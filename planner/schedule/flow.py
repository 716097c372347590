"""How many minutes of some stages can be done inside their windows at most, by maximum flow.

Work flows from each stage to the days of its window, from there to the people who may do it, and
each person-day takes what she works. Every timetable is such a flow, so where the flow falls short
no timetable exists (preemptive scheduling as flow: W. A. Horn, Naval Res. Logist. Q. 21, 1974).
A person-day may serve one stage through two people at once here, which only makes the bound weaker.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any

import numpy as np
import numpy.typing as npt

from planner.schedule.floor import DAY, Floor, Kind
from planner.schedule.windows import Almanac, Heads

Minutes = npt.NDArray[np.int64]
Mask = npt.NDArray[np.bool_]


@dataclass(frozen=True)
class Pressing:
    """The stages that must be finished by some day: their numbers, and the minutes of each day
    that lie inside each one's window (one row per stage)."""

    stages: tuple[int, ...]
    room: Minutes


class Rooms:
    """The minutes of each day inside the windows of stages, kept for ever other days asked."""

    def __init__(self, floor: Floor, books: Sequence[Almanac], early: Heads) -> None:
        self.floor, self.books, self.early = floor, books, early
        self.best = [np.array(book.best, dtype=np.int64) for book in books]
        self.known: dict[tuple[int, int], Minutes] = {}

    def pressing(self, ends: Sequence[int | None]) -> Pressing:
        """Return the stages with a last day inside the horizon, with the room in their windows."""
        windows = [
            (s, end)
            for s, end in enumerate(ends)
            if end is not None and end < self.floor.days * DAY and self.floor.effort[s]
        ]
        rows = [self._row(s, end) for s, end in windows]
        room = np.array(rows, dtype=np.int64).reshape(len(rows), self.floor.days)
        return Pressing(tuple(s for s, _ in windows), room)

    def _row(self, s: int, end: int) -> Minutes:
        row = self.known.get((s, end))
        if row is None:
            start, kind = self.early.start[s], self.floor.kind_of[s]
            first, last = start // DAY, end // DAY
            row = np.zeros(self.floor.days, dtype=np.int64)
            row[first : last + 1] = self.best[kind][first : last + 1]
            for day in {first, last}:
                row[day] = self.books[kind].room(day, start, end)
            self.known[s, end] = row
        return row


def pressing(floor: Floor, books: Sequence[Almanac], early: Heads, ends: Sequence[int | None]) -> Pressing:
    """Return the stages with a last day inside the horizon, with the room in their windows."""
    return Rooms(floor, books, early).pressing(ends)


def machine_room(floor: Floor, kind: Kind) -> Minutes:
    """Return the most minutes a day that a kind of work can use its machine for."""
    if kind.machine is None:
        return np.full(floor.days, np.iinfo(np.int32).max, dtype=np.int64)
    spans = []
    for day in range(floor.days):
        at_work = [p for p in kind.people if floor.closes[p][day] > floor.opens[p][day]]
        opens = min((floor.opens[p][day] for p in at_work), default=0)
        closes = max((floor.closes[p][day] for p in at_work), default=0)
        spans.append((closes - opens) * floor.units[kind.machine])
    return np.array(spans, dtype=np.int64)


def working_minutes(floor: Floor) -> Minutes:
    """Return the minutes of each person (row) on each day."""
    return np.array(floor.closes, dtype=np.int64).reshape(-1, floor.days) - np.array(
        floor.opens, dtype=np.int64
    ).reshape(-1, floor.days)


class Ceiling:
    """The most that can be done of a set of stages, added up day by day without any solver.

    On each day, for any group of people: what the group works, plus the room of the stages that
    somebody outside the group may do. The least of these over all groups is a bound, and by the
    max-flow min-cut theorem the best the flow can give.
    """

    def __init__(self, floor: Floor, work: Pressing) -> None:
        self.floor, self.work = floor, work
        self.groups = groups(floor, {floor.kind_of[s] for s in work.stages})
        minutes = working_minutes(floor)
        self.worked = [minutes[list(group)].sum(axis=0) for group in self.groups]
        self.machines = [machine_room(floor, kind) for kind in floor.kinds]
        self.kinds = np.array([floor.kind_of[s] for s in work.stages], dtype=np.int64)
        self.effort = np.array([floor.effort[s] for s in work.stages], dtype=np.int64)

    def most(self, rows: Mask) -> int:
        """Return the most minutes of the chosen stages that fit in their windows."""
        room = {
            k: self.work.room[rows & (self.kinds == k)].sum(axis=0)
            for k in sorted(set(self.kinds[rows].tolist()))
        }
        room = {k: np.minimum(days, self.machines[k]) for k, days in room.items()}
        sums = []
        for group, worked in zip(self.groups, self.worked, strict=True):
            outside = [days for k, days in room.items() if not set(self.floor.kinds[k].people) <= set(group)]
            sums.append(worked + sum(outside, np.zeros(self.floor.days, dtype=np.int64)))
        return int(np.minimum.reduce(sums).sum())

    def lacks(self, rows: Mask) -> int:
        """Return by how many minutes the chosen stages exceed what can be done of them."""
        return int(self.effort[rows].sum()) - self.most(rows)


def groups(floor: Floor, kinds: set[int]) -> list[tuple[int, ...]]:
    """Return every group of people that is the union of those of some kinds of work, the empty one too."""
    sets = sorted({floor.kinds[k].people for k in kinds})
    if len(sets) > 8:
        sets = sorted(sets, key=lambda people: (-len(people), people))[:8]
    unions = {
        tuple(sorted({p for people in chosen for p in people}))
        for size in range(len(sets) + 1)
        for chosen in combinations(sets, size)
    }
    everybody = tuple(range(len(floor.people)))
    return sorted(unions | {everybody})


def short_set(floor: Floor, work: Pressing) -> Mask | None:
    """Return the stages of a least cut, as a mask over `work.stages`; None if all the work fits."""
    if not work.stages:
        return None
    network = _solved(floor, work)
    if network.optimal_flow() >= sum(floor.effort[s] for s in work.stages):
        return None
    side = np.array(network.get_source_side_min_cut(), dtype=np.int64)
    chosen = np.zeros(len(work.stages), dtype=np.bool_)
    chosen[[node - 2 for node in side.tolist() if 2 <= node < 2 + len(work.stages)]] = True
    return chosen


def most_done(floor: Floor, work: Pressing) -> int:
    """Return the most minutes of the stages that can be done in their windows."""
    return int(_solved(floor, work).optimal_flow()) if work.stages else 0


def _solved(floor: Floor, work: Pressing) -> Any:
    from ortools.graph.python import max_flow

    tails, heads, most = _arcs(floor, work)
    network = max_flow.SimpleMaxFlow()
    network.add_arcs_with_capacity(tails, heads, most)
    if network.solve(0, 1) != network.OPTIMAL:
        raise ArithmeticError("the maximum flow was not found")
    return network


def _arcs(floor: Floor, work: Pressing) -> tuple[Minutes, Minutes, Minutes]:
    """Return the arcs: source 0, sink 1, then stages, kinds of work by day in and out, people by day."""
    days, stages, kinds = floor.days, len(work.stages), len(floor.kinds)
    first_in, first_out = 2 + stages, 2 + stages + kinds * days
    first_person = first_out + kinds * days
    every_day = np.arange(days, dtype=np.int64)
    minutes = working_minutes(floor)
    kind_of = np.array([floor.kind_of[s] for s in work.stages], dtype=np.int64)
    effort = np.array([floor.effort[s] for s in work.stages], dtype=np.int64)
    rows, columns = np.nonzero(work.room > 0)
    nodes = np.arange(2, 2 + stages, dtype=np.int64)
    parts = [
        (np.zeros(stages, dtype=np.int64), nodes, effort),
        (2 + rows, first_in + kind_of[rows] * days + columns, work.room[rows, columns]),
    ]
    for k, kind in enumerate(floor.kinds):
        into, out = first_in + k * days + every_day, first_out + k * days + every_day
        parts.append((into, out, machine_room(floor, kind)))
        parts += [(out, first_person + p * days + every_day, minutes[p]) for p in kind.people]
    for p in range(len(floor.people)):
        parts.append((first_person + p * days + every_day, np.ones(days, dtype=np.int64), minutes[p]))
    joined = [np.concatenate([part[side] for part in parts]) for side in range(3)]
    return joined[0], joined[1], joined[2]
