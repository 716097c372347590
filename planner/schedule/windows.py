"""Heads and tails: how early and how late each stage could be done if nothing else were on the table."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from planner.schedule.floor import DAY, MIDNIGHT, Floor, Kind, moment_after


class Almanac:
    """The best that any one of the people allowed could do for a stage, day by day.

    Before the first and after the last day looked at it goes on at the average pace, so that
    instants stay comparable there.
    """

    def __init__(self, floor: Floor, kind: Kind) -> None:
        self.days = floor.days
        self.spans = [
            tuple(
                (floor.opens[p][day], floor.closes[p][day])
                for p in kind.people
                if floor.closes[p][day] > floor.opens[p][day]
            )
            if floor.runs(kind, day)
            else ()
            for day in range(floor.days)
        ]
        self.best = [max((close - start for start, close in spans), default=0) for spans in self.spans]

    @cached_property
    def pace(self) -> int:
        """Return the average minutes per day, at least 1."""
        return max(1, sum(self.best) // self.days)

    def stretch(self, minutes: int) -> int:
        """Return about how long some minutes of work take, as a difference of instants."""
        return -(-minutes * DAY // self.pace)

    def first_moment(self, start: int) -> int:
        """Return the first instant from `start` on at which somebody is at work."""
        return self.finish(start, 1) - 1

    def last_moment(self, end: int) -> int:
        """Return the last instant up to `end` at which somebody is still at work."""
        return self.start(end, 1) + 1

    def room(self, day: int, start: int, end: int) -> int:
        """Return the minutes of a day that lie between two instants."""
        since, until = max(0, start - day * DAY), end - day * DAY
        return max(
            0, max((min(close, until) - max(opens, since) for opens, close in self.spans[day]), default=0)
        )

    def finish(self, start: int, minutes: int) -> int:
        """Return the earliest instant at which work begun at `start` can be finished."""
        if not minutes:
            return start
        day, minute = divmod(max(start, 0), DAY)
        while day < self.days:
            got = max((close - max(opens, minute) for opens, close in self.spans[day]), default=0)
            if got >= minutes:
                starts = (
                    max(opens, minute)
                    for opens, close in self.spans[day]
                    if close - max(opens, minute) >= minutes
                )
                return day * DAY + min(starts) + minutes
            minutes -= max(got, 0)
            day, minute = day + 1, 0
        return max(day, self.days) * DAY + self.stretch(minutes)

    def start(self, end: int, minutes: int) -> int:
        """Return the latest instant at which work can begin that must be finished at `end`."""
        if not minutes:
            return end
        day, minute = divmod(end, DAY)
        if day >= self.days:
            spare = end - self.days * DAY
            if spare >= self.stretch(minutes):
                return end - self.stretch(minutes)
            minutes -= spare * self.pace // DAY
            day, minute = self.days - 1, MIDNIGHT
        while day >= 0:
            got = max((min(close, minute) - opens for opens, close in self.spans[day]), default=0)
            if got >= minutes:
                ends = (
                    min(close, minute)
                    for opens, close in self.spans[day]
                    if min(close, minute) - opens >= minutes
                )
                return day * DAY + max(ends) - minutes
            minutes -= max(got, 0)
            day, minute = day - 1, MIDNIGHT
        return min(end, 0) - self.stretch(minutes)


def almanacs(floor: Floor) -> list[Almanac]:
    """Return the almanac of each kind of work."""
    return [Almanac(floor, kind) for kind in floor.kinds]


@dataclass(frozen=True)
class Heads:
    """The earliest instants: from when each stage can be worked on, and when it can be finished."""

    start: list[int]
    finish: list[int]


def heads(floor: Floor, books: Sequence[Almanac]) -> Heads:
    """Return the earliest start and finish of each stage, each order alone on its people's calendar."""
    start, finish = [0] * len(floor.stages), [0] * len(floor.stages)
    for s in floor.in_turn:
        moments = [moment_after(finish[earlier], days) for earlier, days in floor.before[s]]
        start[s] = max([floor.ready[s] * DAY, *moments])
        book = books[floor.kind_of[s]]
        if floor.effort[s]:
            start[s] = book.first_moment(start[s])
        finish[s] = book.finish(start[s], floor.effort[s])
    return Heads(start, finish)


def tails(floor: Floor, books: Sequence[Almanac], dues: Sequence[int | None]) -> list[int | None]:
    """Return the latest instant by which each stage must be finished; None where nothing presses.

    `dues` holds the last day of each order by number. A day beyond the horizon presses as well.
    """
    ends: list[int | None] = [None] * len(floor.stages)
    _press(floor, books, (floor.in_turn, ends), dues)
    return ends


def _press(
    floor: Floor,
    books: Sequence[Almanac],
    stages: tuple[Sequence[int], list[int | None]],
    dues: Sequence[int | None],
) -> None:
    """Work out the latest instants of some stages, given in turn, into a list of all."""
    in_turn, ends = stages
    for s in reversed(in_turn):
        limits = [_before_the_next(floor, books, (ends, later), days) for later, days in floor.after[s]]
        due, pin = dues[floor.order_of[s]], floor.pin[s]
        limits += [None if day is None else day * DAY + MIDNIGHT for day in (due, pin)]
        pressing = [limit for limit in limits if limit is not None]
        if pressing:
            ends[s] = min(pressing)


class Tails:
    """Latest instants for ever other days asked: orders that wait for no other are reckoned once a day."""

    def __init__(self, floor: Floor) -> None:
        self.floor, self.books = floor, almanacs(floor)
        self.groups = _orders_that_wait_for_one_another(floor)
        self.stages: list[list[int]] = [[] for _ in self.groups]
        group_of = {o: g for g, orders in enumerate(self.groups) for o in orders}
        for s in floor.in_turn:
            self.stages[group_of[floor.order_of[s]]].append(s)
        self.known: list[dict[tuple[int | None, ...], list[int | None]]] = [{} for _ in self.groups]

    def ends(self, dues: Sequence[int | None]) -> list[int | None]:
        """Return what `tails` does."""
        ends: list[int | None] = [None] * len(self.floor.stages)
        for orders, stages, known in zip(self.groups, self.stages, self.known, strict=True):
            asked = tuple(dues[o] for o in orders)
            found = known.get(asked)
            if found is None:
                _press(self.floor, self.books, (stages, ends), dues)
                known[asked] = [ends[s] for s in stages]
            else:
                for s, end in zip(stages, found, strict=True):
                    ends[s] = end
        return ends


def _orders_that_wait_for_one_another(floor: Floor) -> list[list[int]]:
    group = list(range(len(floor.orders)))
    for s, later_ones in enumerate(floor.after):
        for later, _ in later_ones:
            ours, theirs = group[floor.order_of[s]], group[floor.order_of[later]]
            if ours != theirs:
                group = [ours if g == theirs else g for g in group]
    return [[o for o, g in enumerate(group) if g == name] for name in sorted(set(group))]


def _before_the_next(
    floor: Floor, books: Sequence[Almanac], next_one: tuple[list[int | None], int], days: int
) -> int | None:
    ends, later = next_one
    end = ends[later]
    if end is None:
        return None
    start = books[floor.kind_of[later]].start(end, floor.effort[later])
    return start if days == 0 else (start // DAY - days) * DAY + MIDNIGHT
