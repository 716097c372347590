"""Days on which the shop, or one person, is not at the bench."""

from __future__ import annotations

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
