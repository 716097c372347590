"""Weeks of bench time: what they hold, what fills them, and where more is wanted than there is."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import lru_cache

from orders.days.calendar import PENCILED, workload
from orders.days.holds import nothing_without_its_yes
from orders.days.penciled import with_penciled, without_penciled
from orders.models import Order, Shop
from planner.problems import Limit
from planner.schedule import Timetable, Workload, make_timetable, urgent_first

EFFORT = 3
SHORTER = (0, 2, 4)  # days; each try costs a timetable
ALMOST_FULL = 4  # a month is full but for its last quarter


@dataclass(frozen=True)
class Share:
    """Minutes of one order in a week; penciled places have the name of their enquiry."""

    order: str
    minutes: int

    @property
    def is_penciled(self) -> bool:
        return self.order.startswith(PENCILED)


@dataclass(frozen=True)
class Week:
    """A week from its Monday: minutes there are, minutes planned, and minutes wanted beyond both."""

    monday: date
    capacity: int
    shares: tuple[Share, ...]
    over: int = 0

    @property
    def planned(self) -> int:
        return sum(share.minutes for share in self.shares)

    @property
    def free(self) -> int:
        return max(0, self.capacity - self.planned)


@dataclass(frozen=True)
class Demand:
    """The work in the room, and the weeks with what they hold and what is wanted beyond that."""

    work: Workload
    weeks: tuple[Week, ...]


@dataclass(frozen=True)
class Ahead(Demand):
    """The same with a timetable, and with the weeks filled by it."""

    table: Timetable

    @property
    def tightest(self) -> Week | None:
        """The first week that is over, if one is."""
        return next((week for week in self.weeks if week.over), None)

    @property
    def has_hours(self) -> bool:
        """Say whether anybody has bench hours in these weeks."""
        return any(week.capacity for week in self.weeks)

    def wanted_in(self, week: Week) -> list[str]:
        """Return the orders that are wanted in a week; what is overdue is wanted now."""
        start = (week.monday - self.work.origin).days
        return [due.order for due in self.work.dues if due.firm and start <= max(0, due.day) < start + 7]


def look_ahead(shop: Shop, *, today: date, weeks: int, seen: Sequence[Order] | None = None) -> Ahead:
    """Return the next weeks, this one first; the little search takes some hundredths of a second.

    `seen` are the orders in the workroom, the soonest first, with their state and little quilt, where the
    page has read them already.
    """
    work = nothing_without_its_yes(workload(shop, today=today, seen=seen), seen)
    table = timetable_of(work)
    return Ahead(work, tuple(_weeks(work, table, weeks)), table)


def look_at_demand(shop: Shop, *, today: date, weeks: int, seen: Sequence[Order]) -> Demand:
    """Return the next weeks, what they hold and what is wanted beyond it; nothing is planned into them."""
    work = workload(shop, today=today, seen=seen)
    monday = today - timedelta(days=today.weekday())
    mondays = [monday + timedelta(weeks=number) for number in range(weeks)]
    over = minutes_over(work, monday, weeks)
    found = (Week(each, _capacity(work, each, 7), (), more) for each, more in zip(mondays, over, strict=True))
    return Demand(work, tuple(found))


@lru_cache(maxsize=6)
def timetable_of(work: Workload) -> Timetable:
    """Return the timetable of a workload; asked again before anything changed, it is the one made then.

    Penciled places take only hours that no quilt needs, so none ever pushes a paid one. What is late or due
    tomorrow is done first in the day.
    """
    paid = without_penciled(work)
    return with_penciled(work, urgent_first(paid, make_timetable(paid, limit=Limit(effort=EFFORT))))


def _weeks(work: Workload, table: Timetable, count: int) -> list[Week]:
    order_of = {stage.id: stage.order for stage in work.stages}
    monday = work.origin - timedelta(days=work.origin.weekday())
    shares: list[dict[str, int]] = [defaultdict(int) for _ in range(count)]
    for stint in table.stints:
        week = (stint.day + work.origin.weekday()) // 7
        if week < count:
            shares[week][order_of[stint.stage]] += stint.minutes
    over = minutes_over(work, monday, count)
    return [
        Week(
            monday + timedelta(weeks=number),
            _capacity(work, monday + timedelta(weeks=number), 7),
            tuple(Share(order, minutes) for order, minutes in shares[number].items()),
            over[number],
        )
        for number in range(count)
    ]


def _capacity(work: Workload, first: date, days: int) -> int:
    start = (first - work.origin).days
    span = range(max(0, start), min(work.days, max(0, start + days)))
    return sum(person.minutes[day] for person in work.people for day in span)


def minutes_over(work: Workload, monday: date, count: int) -> list[int]:
    """Return, week by week, the minutes that what is wanted by then takes beyond all there are until then.

    A lower bound: who may do what, and what waits for what, can only make it more.
    """
    asked: Mapping[str, int] = _minutes_by_order(work)
    over, missing, demand = [0] * count, 0, 0
    for due in sorted((each for each in work.dues if each.firm), key=lambda each: each.day):
        demand += asked.get(due.order, 0)
        lacking = demand - _capacity(work, work.origin, max(0, due.day) + 1)
        week = (work.origin + timedelta(days=max(0, due.day)) - monday).days // 7
        if week < count and lacking > missing:
            over[week] += lacking - missing
            missing = lacking
    return over


def _minutes_by_order(work: Workload) -> dict[str, int]:
    asked: dict[str, int] = defaultdict(int)
    for stage in work.stages:
        asked[stage.order] += stage.minutes
    return asked


def free_in_months(ahead: Ahead, months: int) -> list[tuple[date, int, int]]:
    """Return the next whole months: first day, minutes free, minutes there are."""
    planned: dict[int, int] = defaultdict(int)
    for stint in ahead.table.stints:
        planned[stint.day] += stint.minutes
    found, first = [], _next_month(ahead.work.origin)
    for _ in range(months):
        after = _next_month(first)
        days = range((first - ahead.work.origin).days, (after - ahead.work.origin).days)
        there = _capacity(ahead.work, first, len(days))
        found.append((first, max(0, there - sum(planned[day] for day in days)), there))
        first = after
    return found


def _next_month(day: date) -> date:
    return (day.replace(day=1) + timedelta(days=32)).replace(day=1)


def month_in_words(first: date, free: int, there: int) -> str:
    """Return `May is full but for 11 hours.`"""
    name = f"{first:%B}"
    if not there:
        return f"{name} has no bench hours."
    if free < 60:
        return f"{name} is full."
    hours = f"{free // 60} hour{'s' if free >= 120 else ''}"
    return f"{name} is full but for {hours}." if free * ALMOST_FULL <= there else f"{name} has {hours} free."


def days_of_room(ahead: Ahead, order: str) -> int | None:
    """Return the days an order's work may still wait without costing anybody a day; None if not found.

    Tried out: with the work put off by so many days, a timetable still keeps the days kept now.
    """
    due = next((each.day for each in ahead.work.dues if each.order == order and each.firm), None)
    finish = ahead.table.finish.get(order)
    if due is None or finish is None:
        return None
    if finish >= due:
        return 0
    # Days off fall elsewhere when the work moves, so a day or two less may be the room there is.
    rooms = (due - finish - days for days in SHORTER if due - finish > days)
    return next((room for room in rooms if _is_kept(ahead, order, room)), None)


def _is_kept(ahead: Ahead, order: str, room: int) -> bool:
    put_off = tuple(
        replace(stage, ready=stage.ready + room) if stage.order == order else stage
        for stage in ahead.work.stages
        if not stage.order.startswith(PENCILED)
    )
    firm = tuple(due for due in ahead.work.dues if due.firm)
    tried = _quick_timetable(replace(ahead.work, stages=put_off, dues=firm))
    return _days_late(tried) <= _days_late(ahead.table)


@lru_cache(maxsize=32)
def _quick_timetable(work: Workload) -> Timetable:
    return make_timetable(work, limit=Limit(effort=1))


def _days_late(table: Timetable) -> int:
    return sum(max(0, days) for days in table.late.values())


def bench_minutes_a_day(weeks: Sequence[Sequence[int]]) -> float:
    """Return the bench minutes of a calendar day, on average over the week."""
    return max(1.0, sum(sum(week) for week in weeks) / 7)
