"""Days of a brief: written as dates, reckoned as indexes from the first day of the calendar."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cache
from typing import Annotated, Any, get_type_hints

from planner.problems import BadInput
from planner.schedule import Due, Machine, Person, Stage, minutes_by_day

Day = Annotated[int, "day"]

MINUTES_IN_A_DAY = 1440
LONGEST = 3660
_DAYS: Mapping[type, Mapping[str, Any]] = {
    Due: {"day": Day, "target": Day | None},
    Stage: {"ready": Day, "pin": Day | None},
    Machine: {"closed": frozenset[Day]},
}


@cache
def field_kinds(kind: type) -> Mapping[str, Any]:
    """Return the type of every field, in the calendar's records with its days marked as days."""
    return get_type_hints(kind, include_extras=True) | dict(_DAYS.get(kind, {}))


def day_index(day: date, origin: date) -> int:
    """Return how many days `day` lies after `origin`."""
    index = (day - origin).days
    if index < 0:
        raise BadInput("", f"lies before the calendar's first day, {origin.isoformat()}.")
    return index


@dataclass(frozen=True)
class Week:
    """A person by weekday minutes, Monday first, until a last day.

    `closed` are days off, `extra` minutes more or (below 0) less on a day, `opens` the minute of
    the day work starts.
    """

    id: str
    week: tuple[int, ...]
    until: date
    closed: tuple[date, ...] = ()
    extra: Mapping[date, int] = field(default_factory=dict)
    opens: int = 0

    def person(self, origin: date) -> Person:
        """Return the person day by day, from `origin` on."""
        days = (self.until - origin).days + 1
        if not 1 <= days <= LONGEST:
            raise BadInput("until", "must lie within ten years after the calendar's first day.")
        minutes = minutes_by_day(
            self.week, closed=set(self.closed), extra=self.extra, origin=origin, days=days
        )
        if max(minutes) > MINUTES_IN_A_DAY - self.opens:
            at = "week" if max(self.week) > MINUTES_IN_A_DAY - self.opens else "extra"
            raise BadInput(at, f"a day of {self.id} would end after midnight.")
        return Person(id=self.id, minutes=minutes, opens=(self.opens,) * days)
