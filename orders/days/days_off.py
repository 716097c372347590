"""Days on which the shop, or one person, is not at the bench."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from django.db import transaction

from orders.models import DayOff, Event, Person

LONGEST = 60  # days at once


@transaction.atomic
def take_off(
    first: date, last: date, *, person: Person | None, by: Person, words: str = "", why: str = DayOff.Why.OFF
) -> list[DayOff]:
    """Take the days from first to last off; those that are off already stay so. Return the new ones."""
    new = []
    for number in range((last - first).days + 1):
        day = first + timedelta(days=number)
        off, is_new = DayOff.objects.get_or_create(
            day=day, person=person, defaults={"words": words, "why": why}
        )
        new += [off] if is_new else []
    if new:
        Event.objects.note("days off", by=by, first=first, last=last, person=person, words=words, why=why)
    return new


@transaction.atomic
def be_there(off: DayOff, *, by: Person) -> None:
    """Be at the bench on that day after all."""
    Event.objects.note("day on", by=by, day=off.day, person=off.person)
    off.delete()


@dataclass(frozen=True)
class Run:
    """Days off in a row, of the same person for the same reason."""

    days: tuple[DayOff, ...]

    @property
    def first(self) -> DayOff:
        return self.days[0]

    @property
    def last(self) -> DayOff:
        return self.days[-1]


def runs_of(days: Iterable[DayOff]) -> list[Run]:
    """Return days off gathered into runs, the first to come first."""
    runs: list[list[DayOff]] = []
    for off in sorted(days, key=lambda each: (each.person_id or 0, each.day)):
        before = runs[-1][-1] if runs else None
        if before is not None and _goes_on(before, off):
            runs[-1].append(off)
        else:
            runs.append([off])
    return sorted((Run(tuple(run)) for run in runs), key=lambda run: run.first.day)


def _goes_on(before: DayOff, off: DayOff) -> bool:
    same = (before.person_id, before.why, before.words) == (off.person_id, off.why, off.words)
    return same and off.day - before.day == timedelta(days=1)
