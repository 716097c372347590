"""Pins: why a stage cannot be pinned to a day, in words, before the plan would find out."""

from __future__ import annotations

from datetime import date

from orders.bench import work
from orders.bench.piles import minutes_left
from orders.days.calendar import people_of_steps, workers
from orders.days.hours import calendar_of, person_at_work
from orders.days.replanning import Deeds
from orders.models import Person, Shop, Stage
from orders.templatetags.shop import day as short_day
from orders.templatetags.shop import hours


def pin_deeds(stage: Stage, day: date | None, *, by: Person) -> Deeds:
    """Pin a stage, or take its pin out; return it as a deed with what it was."""
    before = stage.pinned_for
    if before == day:
        return []
    work.pin(stage, day, by=by)
    return [["pinned_for", stage.pk, before.isoformat() if before else None]]


def why_not_pinned(stage: Stage, day: date, shop: Shop) -> str:
    """Return the sentence that refuses a pin; nothing where the stage can be done on that day."""
    people = list(workers())
    step = people_of_steps(shop, people).get(stage.kind)
    calendar = calendar_of(shop, people, origin=day, days=1)
    minutes = {
        person.name: person_at_work(person, calendar).minutes[0]
        for person in people
        if step is None or person.name in step.people
    }
    if stage.waits_until and day < stage.waits_until:
        return f"It waits until {short_day(stage.waits_until)}. Pin it to that day or later."
    most = max(minutes.values(), default=0)
    if most == 0:
        return f"Nobody who does this is at the bench on {short_day(day)}. Pin it to another day."
    left = minutes_left(stage.order, stage)
    if most < left:
        return (
            f"It takes {hours(left)}, and nobody who does this has more than {hours(most)} planned on"
            f" {short_day(day)}. Leave the day open, or plan overtime first."
        )
    return ""
