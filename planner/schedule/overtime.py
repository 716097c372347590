"""Minutes beyond the hours entered: the least that any plan needs, and an amount that is enough."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Set
from copy import copy
from dataclasses import dataclass, replace
from random import Random

import numpy as np

from planner.problems import Limit
from planner.schedule.climb import Aim, Ladder, Search, days_late, missed
from planner.schedule.dispatch import Run, dispatch
from planner.schedule.floor import DAY, Floor, Kind, finish_days
from planner.schedule.flow import Pressing, most_done
from planner.schedule.meter import Meter
from planner.schedule.timetable import Timetable
from planner.schedule.windows import Tails, almanacs, heads, tails
from planner.schedule.workload import MINUTES_IN_A_DAY, Person, Workload

PATIENCE = 15
MOST_A_DAY = 480  # minutes of overtime that nobody goes beyond on any day
MORE_A_DAY = (30, 60, 120, 240, MOST_A_DAY)  # on days worked anyway
DAYS_OFF_TOO = (240, MOST_A_DAY)
SMALLEST_CUT = 5  # minutes; a day's overtime is not trimmed more finely
Extra = dict[tuple[int, int], int]  # person and day by number: minutes


@dataclass(frozen=True)
class Mending:
    """Overtime by person and day that is enough, and the timetable that works it."""

    extra: Mapping[tuple[str, int], int]
    timetable: Timetable

    @property
    def minutes(self) -> int:
        """Return all of it."""
        return sum(self.extra.values())


def with_overtime(workload: Workload, extra: Mapping[tuple[str, int], int]) -> Workload:
    """Return the workload with minutes added at the end of people's days, or before them near midnight."""
    people = tuple(_longer_days(person, workload.days, extra) for person in workload.people)
    return replace(workload, people=people)


def _longer_days(person: Person, days: int, extra: Mapping[tuple[str, int], int]) -> Person:
    minutes = [person.minutes[d] + extra.get((person.id, d), 0) for d in range(days)]
    opens = [min(person.opening(d), MINUTES_IN_A_DAY - minutes[d]) for d in range(days)]
    return replace(person, minutes=tuple(minutes), opens=tuple(opens))


class Overtime:
    """What overtime a workload needs to keep some days by order; nothing is asked of the other orders.

    `barred` holds the person-days on which there can be none, as when somebody is ill.
    """

    def __init__(self, workload: Workload, days: Mapping[str, int], barred: Set[tuple[str, int]]) -> None:
        self.floor = Floor(workload)
        self.barred = {(self.floor.people.index(name), day) for name, day in barred}
        self.longest = _as_long_as_days_can_be(self.floor, self.barred)
        self.books = almanacs(self.longest[0])
        self.early = heads(self.longest[0], self.books)
        soonest = finish_days(self.floor, self.early.finish)
        first = dict(zip(self.floor.orders, soonest, strict=True))
        asked = {order: day for order, day in days.items() if day < workload.days and order in first}
        self.beyond_help = tuple(sorted(order for order, day in asked.items() if first[order] > day))
        self.days = self.floor.days_by_order(
            {order: day for order, day in asked.items() if order not in self.beyond_help}
        )

    def at_least(self) -> int:
        """Return minutes of overtime without which the days cannot be kept, wherever else it is put.

        What is worked inside the hours entered is a flow from stages to the days between their waits;
        minutes that no such flow holds are overtime. A stage may use each day from its first to its
        last for as long as overtime can make it (the flow is described with its network).
        """
        last = tails(self.longest[1], almanacs(self.longest[1]), self.days)
        work = self._whole_days(last)
        hours = copy(self.floor)
        hours.kinds = tuple(Kind(kind.people, None) for kind in hours.kinds)
        return sum(hours.effort[s] for s in work.stages) - most_done(hours, work)

    def _whole_days(self, last: Sequence[int | None]) -> Pressing:
        """Return the stages that must be finished, with the longest any one person can be on them a day."""
        floor, horizon = self.floor, self.floor.days * DAY
        ends = [
            (s, end) for s, end in enumerate(last) if end is not None and end < horizon and floor.effort[s]
        ]
        room = np.zeros((len(ends), floor.days), dtype=np.int64)
        for row, (s, end) in enumerate(ends):
            days = slice(self.early.start[s] // DAY, end // DAY + 1)
            room[row, days] = self.books[floor.kind_of[s]].best[days]
        return Pressing(tuple(s for s, _ in ends), room)

    def enough(self, limit: Limit, seed: int) -> Mending | None:
        """Return overtime with which a timetable keeps the days; None if none was found."""
        meter, rng = Meter(limit), Random(seed)
        levels = list(self._ever_more())
        at_once = [(extra, 0) for extra in levels]
        for extra, patience in [*at_once, *((extra, PATIENCE) for extra in levels[::-1])]:
            keys = self._keys_that_keep(extra, patience, meter, rng)
            if keys is not None:
                return self._mending(self._trimmed(extra, keys, meter), keys)
            if not meter.goes_on():
                return None
        return None

    def _ever_more(self) -> Iterator[Extra]:
        """Yield no overtime, then more and more of it until the last day asked, at last on days off too."""
        yield {}
        last = max((day for day in self.days if day is not None), default=-1)
        hours = [
            [closes - opens for opens, closes in zip(*rows, strict=True)]
            for rows in zip(self.floor.opens, self.floor.closes, strict=True)
        ]
        free = [
            (p, day)
            for p in range(len(self.floor.people))
            for day in range(last + 1)
            if (p, day) not in self.barred
        ]
        for more in MORE_A_DAY:
            yield {(p, d): min(more, MINUTES_IN_A_DAY - hours[p][d]) for p, d in free if hours[p][d]}
        for more in DAYS_OFF_TOO:
            yield {(p, d): min(more, MINUTES_IN_A_DAY - hours[p][d]) for p, d in free}

    def _keys_that_keep(self, extra: Extra, patience: int, meter: Meter, rng: Random) -> list[int] | None:
        floor = _stretched(self.floor, extra)
        ones = [1] * len(self.days)
        aim = Aim(tuple(self.days), lambda run, finish: (days_late(finish, self.days, ones),))
        search = Search(Ladder(floor, Tails(floor), self.days), aim, meter, rng)
        start = min((search.judge(search.plain(pull)) for pull in (8, 1)), key=lambda found: found.cost)
        best = search.climb(start, patience)
        return None if any(best.cost) else best.run.keys

    def _trimmed(self, extra: Extra, keys: Sequence[int], meter: Meter) -> Extra:
        """Return less overtime with which the same priorities still keep the days: whole weeks, days and
        parts of days are left out wherever that can be."""
        for fewer in _ways_to_leave_out(extra):
            if not meter.goes_on():
                break
            tried = {key: max(0, most - fewer.get(key, 0)) for key, most in extra.items()}
            if tried == extra:
                continue
            meter.used += 1
            if self._keeps(dispatch(_stretched(self.floor, tried), keys)):
                extra = tried
        return self._only_what_is_worked(extra, keys)

    def _keeps(self, run: Run) -> bool:
        finish = finish_days(self.floor, run.done)
        return not missed(self.floor, run) and not days_late(finish, self.days, [1] * len(finish))

    def _only_what_is_worked(self, extra: Extra, keys: Sequence[int]) -> Extra:
        floor = _stretched(self.floor, extra)
        end: Extra = {}
        for _, p, day, start, minutes in dispatch(floor, keys).stints:
            end[p, day] = max(end.get((p, day), 0), start + minutes)
        worked = {
            (p, day): min(most, end.get((p, day), 0) - (floor.closes[p][day] - most))
            for (p, day), most in extra.items()
        }
        needed = {key: minutes for key, minutes in worked.items() if minutes > 0}
        return needed if self._keeps(dispatch(_stretched(self.floor, needed), keys)) else extra

    def _mending(self, extra: Extra, keys: list[int]) -> Mending:
        run = dispatch(_stretched(self.floor, extra), keys)
        named = {(self.floor.people[p], day): minutes for (p, day), minutes in sorted(extra.items())}
        return Mending(named, self.floor.timetable(run.stints, run.done, keys))


def _as_long_as_days_can_be(floor: Floor, barred: Set[tuple[int, int]]) -> tuple[Floor, Floor]:
    """Return the floor with all the overtime there can be, once from midnight on and once until midnight.

    Between the two lies whatever somebody may really work, before her hours or after them.
    """
    hours = [
        [
            0 if (p, day) in barred else min(MINUTES_IN_A_DAY, closes - opens + MOST_A_DAY)
            for day, (opens, closes) in enumerate(zip(*rows, strict=True))
        ]
        for p, rows in enumerate(zip(floor.opens, floor.closes, strict=True))
    ]
    early, late = copy(floor), copy(floor)
    early.closed = late.closed = [frozenset() for _ in floor.closed]
    early.opens, early.closes = [[0] * floor.days for _ in hours], hours
    late.opens = [[MINUTES_IN_A_DAY - minutes for minutes in row] for row in hours]
    late.closes = [[MINUTES_IN_A_DAY] * floor.days for _ in hours]
    return early, late


def _stretched(floor: Floor, extra: Extra) -> Floor:
    """Return the floor with longer days, as `with_overtime` makes them."""
    longer = copy(floor)
    longer.opens, longer.closes = [list(row) for row in floor.opens], [list(row) for row in floor.closes]
    for (p, day), minutes in extra.items():
        total = floor.closes[p][day] - floor.opens[p][day] + minutes
        longer.opens[p][day] = min(floor.opens[p][day], MINUTES_IN_A_DAY - total)
        longer.closes[p][day] = longer.opens[p][day] + total
    return longer


def _ways_to_leave_out(extra: Extra) -> Iterator[Extra]:
    """Yield what could be left out of overtime: ever shorter runs of days, then ever smaller parts."""
    keys = sorted(extra, key=lambda key: (key[1], key[0]))
    size = len(keys)
    while size > 1:
        size = (size + 1) // 2
        for first in range(0, len(keys), size):
            yield {key: extra[key] for key in keys[first : first + size]}
        if size == 1:
            break
    cut = max(extra.values(), default=0) // 2
    while cut >= SMALLEST_CUT:
        for key in keys:
            yield {key: cut}
        cut //= 2
