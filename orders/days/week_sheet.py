"""One week on one sheet: for each person the days with their work in order, and who comes to the door."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from orders.days.calendar import workers
from orders.days.day import stage_name, task_words
from orders.days.public_holidays import closed_holidays, holidays_between
from orders.days.weeks import Ahead, look_ahead
from orders.models import DayOff, Order, Person, Shop, Visit


@dataclass(frozen=True)
class Line:
    """A piece of work: from which minute of the day, for how many, on which quilt."""

    start: int
    minutes: int
    order: Any
    words: str


@dataclass(frozen=True)
class Day:
    """A day of the sheet: who works on what, who comes, and why nobody works, if so."""

    day: date
    people: tuple[tuple[Person, tuple[Line, ...]], ...]
    visits: tuple[Visit, ...]
    closed: tuple[str, ...]

    @property
    def has_work(self) -> bool:
        """Say whether anybody works on anything."""
        return any(lines for _, lines in self.people)


def week_of(shop: Shop, monday: date) -> tuple[Day, ...]:
    """Return the seven days of a week; of days that are past, only who came."""
    today = shop.today()
    ahead = look_ahead(shop, today=today, weeks=1)
    orders = list(Order.objects.in_the_workroom().with_state())
    stages = {stage_name(order, stage): (order, stage) for order in orders for stage in order.stages.all()}
    days = [monday + timedelta(days=number) for number in range(7)]
    people, visits, closed = list(workers()), visits_between(shop, days), why_closed(shop, days)
    return tuple(
        Day(
            day,
            tuple((person, tuple(_lines(person, day, stages, ahead))) for person in people),
            tuple(visits.get(day, ())),
            tuple(closed.get(day, ())),
        )
        for day in days
    )


def _lines(person: Person, day: date, stages: dict[str, Any], ahead: Ahead) -> Iterator[Line]:
    index = (day - ahead.work.origin).days
    opens = person.week.opens if hasattr(person, "week") else 0
    for stint in sorted(ahead.table.stints, key=lambda each: each.start):
        if (stint.day, stint.person) == (index, person.name) and stint.stage in stages:
            order, stage = stages[stint.stage]
            yield Line(max(stint.start, opens), stint.minutes, order, task_words(order, stage.kind))


def visits_between(shop: Shop, days: list[date]) -> dict[date, list[Visit]]:
    """Return the visits of some days in a row by the shop's own day; a clock change moves none."""
    zone = ZoneInfo(shop.time_zone)
    start = datetime.combine(days[0], datetime.min.time(), zone)
    end = datetime.combine(days[-1] + timedelta(days=1), datetime.min.time(), zone)
    found: dict[date, list[Visit]] = {}
    for visit in Visit.objects.between(start, end):
        found.setdefault(visit.at.astimezone(zone).date(), []).append(visit)
    return found


def why_closed(shop: Shop, days: list[date]) -> dict[date, list[str]]:
    """Return in words who does not work on which day."""
    found: dict[date, list[str]] = {}
    names = holidays_between(shop.country, shop.region, days[0], days[-1])
    kept = closed_holidays(shop, origin=days[0], days=len(days))
    for day in sorted(kept & set(days)):
        found.setdefault(day, []).append(names[day])
    off: Iterable[DayOff] = DayOff.objects.filter(day__range=(days[0], days[-1])).select_related("person")
    for each in off:
        who = each.person.name if each.person else "The shop"
        words = each.words or each.get_why_display().lower()
        found.setdefault(each.day, []).append(f"{who}: {words}")
    return found
