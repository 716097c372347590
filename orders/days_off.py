"""Days on which the shop, or one person, is not at the bench."""

from __future__ import annotations

from datetime import date, timedelta

from django.db import transaction

from orders.models import DayOff, Event, Person

LONGEST = 60  # days at once


@transaction.atomic
def take_off(first: date, last: date, *, person: Person | None, words: str, by: Person) -> int:
    """Take the days from first to last off; those that are off already stay so. Return how many are new."""
    new = 0
    for number in range((last - first).days + 1):
        day = first + timedelta(days=number)
        _, is_new = DayOff.objects.get_or_create(day=day, person=person, defaults={"words": words})
        new += is_new
    if new:
        Event.objects.note("days off", by=by, first=first, last=last, person=person, words=words)
    return new


@transaction.atomic
def be_there(off: DayOff, *, by: Person) -> None:
    """Be at the bench on that day after all."""
    Event.objects.note("day on", by=by, day=off.day, person=off.person)
    off.delete()
