"""The hours of the people: the week, less what takes from it, plus overtime; a share of it is planned."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from orders.days.public_holidays import closed_holidays
from orders.models import DayOff, Overtime, Person, Shop, Visit
from orders.models.question import Question
from planner import schedule
from planner.schedule import minutes_by_day

MINUTES_IN_A_DAY = 1440
Minutes = Mapping[tuple[int, date], int]


@dataclass(frozen=True)
class Calendar:
    """What takes from the weeks and adds to them, from `origin` on for `days`.

    `off` names the person of each day off, None for the whole shop; `door` and `overtime` are minutes
    by person and day.
    """

    origin: date
    days: int
    share: int
    holidays: frozenset[date]
    off: frozenset[tuple[int | None, date]]
    door: Minutes
    overtime: Minutes

    def closed_for(self, person: Person) -> set[date]:
        """Return the days on which a person is not at the bench."""
        return {day for who, day in self.off if who in (None, person.pk)} | set(self.holidays)


_OFF = Question(lambda first: DayOff.objects.filter(day__gte=first).values_list("person", "day"), first=date)
_OVERTIME = Question(
    lambda first, last: Overtime.objects.filter(day__gte=first, day__lt=last).values_list(
        "person", "day", "minutes"
    ),
    first=date,
    last=date,
)
_VISITS = Question(
    lambda first, last: Visit.objects.filter(at__gte=first, at__lt=last, came_at=None).values_list(
        "at", "opens_the_door", "minutes"
    ),
    first=datetime,
    last=datetime,
)


def calendar_of(shop: Shop, people: Iterable[Person], *, origin: date, days: int) -> Calendar:
    """Return the shop's calendar, in three queries."""
    last = origin + timedelta(days=days)
    return Calendar(
        origin=origin,
        days=days,
        share=shop.planned_share,
        holidays=frozenset(closed_holidays(shop, origin=origin, days=days)),
        off=frozenset(_OFF.ask(first=origin)),
        door=_minutes_at_the_door(shop, list(people), origin, last),
        overtime={(who, day): minutes for who, day, minutes in _OVERTIME.ask(first=origin, last=last)},
    )


def _minutes_at_the_door(shop: Shop, people: list[Person], first: date, last: date) -> Minutes:
    """Add up the visits by day for whoever opens the door: the owner, where nobody is named."""
    zone = ZoneInfo(shop.time_zone)
    start, end = (datetime.combine(day, datetime.min.time(), zone) for day in (first, last))
    owner = next((person.pk for person in people if person.role == Person.Role.OWNER), None)
    minutes: dict[tuple[int, date], int] = defaultdict(int)
    for at, opens, takes in _VISITS.ask(first=start, last=end):
        who = opens or owner
        if who is not None:
            minutes[who, at.astimezone(zone).date()] += takes
    return minutes


def person_at_work(person: Person, calendar: Calendar) -> schedule.Person:
    """Return a person as the planner takes them: of each day's hours, the share that is planned."""
    week = tuple(person.week.minutes) if hasattr(person, "week") else (0,) * 7
    opens = person.week.opens if hasattr(person, "week") else 0
    origin, days = calendar.origin, calendar.days
    closed = calendar.closed_for(person)
    hours = minutes_by_day(week, closed=closed, extra={}, origin=origin, days=days)
    planned = [each * calendar.share // 100 for each in hours]
    for who, day in {*calendar.door, *calendar.overtime}:
        if who == person.pk and 0 <= (number := (day - origin).days) < days:
            planned[number] = planned_minutes(hours[number], calendar, (who, day))
    minutes = tuple(planned)
    start = tuple(min(opens, MINUTES_IN_A_DAY - each) for each in minutes)
    return schedule.Person(person.name, minutes, start)


def planned_minutes(hours: int, calendar: Calendar, on: tuple[int, date]) -> int:
    """Return the minutes planned on a day: the share of what the door leaves, and all the overtime.

    A day off is off, whatever overtime was entered for it before.
    """
    who, day = on
    if not calendar.off.isdisjoint({(who, day), (None, day)}):
        return 0
    left = max(0, hours - calendar.door.get(on, 0)) * calendar.share // 100
    return min(MINUTES_IN_A_DAY, left + calendar.overtime.get(on, 0))
