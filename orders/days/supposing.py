"""If…: a change is tried on paper, in the background: who becomes late, and what would mend it.

Nothing is changed by asking. What was found may be done, with or without the overtime, or put away.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from orders.background import errands
from orders.customer.enquiries import new_order_of, without
from orders.days.calendar import PENCILED, workload
from orders.days.holds import nothing_without_its_yes
from orders.days.weeks import timetable_of
from orders.models import Enquiry, Errand, Person, Shop
from orders.models.errand import STILL_OPEN
from planner.problems import BadInput, Limit
from planner.schedule import Effect, Workload, what_if, with_order

KIND = "if"
KEY = "shop"
EFFORT = 240
Question = Mapping[str, Any]


class Senseless(Exception):
    """What was asked no longer makes sense; the message says why."""


def ask(question: Question) -> Errand:
    """Ask in the background, unless the same is asked already; what was asked before is put away."""
    last = standing()
    if last is not None and last.is_open and last.payload["question"] == question:
        return last
    if last is not None:
        put_away(last)
    number = Errand.objects.about(KIND, KEY).exclude(state__in=STILL_OPEN).count()
    return errands.send(
        KIND,
        key=f"{KEY} {number} {Errand.objects.about(KIND, KEY).count()}",
        cause="If…",
        payload={"question": dict(question)},
    )


def standing() -> Errand | None:
    """Return the question that was asked last, unless it was put away."""
    last = Errand.objects.about(KIND, KEY).first()
    return None if last is None or last.payload.get("away") else last


def put_away(asked: Errand) -> None:
    """Forget a question; a search for it is stopped."""
    if asked.is_open:
        asked.ask_to_stop()
    asked.payload["away"] = True
    Errand.objects.filter(pk=asked.pk).update(payload=asked.payload)


def limit_of() -> Limit:
    """Return how far a search goes."""
    return Limit(effort=EFFORT)


@errands.errand(KIND, seconds=120, megabytes=700, waited_for=True)
def answer_in_the_background(taken: Errand) -> str:
    """Try the change on the work as it stands, and keep what comes of it."""
    shop, question = Shop.objects.the(), taken.payload["question"]
    if shop is None:
        raise errands.CannotBeDone("There is no shop yet.")
    before = nothing_without_its_yes(workload(shop, today=shop.today()))
    try:
        before, after = changed(before, question, shop)
        taken.keep("Trying it on the plan.")
        effect = what_if(before, after, limit=limit_of())
    except (Senseless, BadInput) as fault:
        raise errands.CannotBeDone(str(fault)) from fault
    answer = as_facts(effect, after) | {"already": late_already(before)}
    words = late_in_words(len(answer["late"]))
    taken.keep(words, answer=answer)
    return words


def changed(work: Workload, question: Question, shop: Shop) -> tuple[Workload, Workload]:
    """Return the work before and after what is supposed; Senseless where it no longer can be."""
    kind = question["kind"]
    if kind == "ill":
        return work, _ill(work, question)
    if kind == "more":
        return _one_more(work, question, shop)
    return work, _stage_changed(work, question)


def _ill(work: Workload, question: Question) -> Workload:
    first, last = (date.fromisoformat(question[name]) for name in ("first", "last"))
    span = range((first - work.origin).days, (last - work.origin).days + 1)
    if question["person"] not in {person.id for person in work.people}:
        raise Senseless(f"{question['person']} does not work here any more.")
    people = tuple(
        replace(person, minutes=tuple(0 if day in span else each for day, each in enumerate(person.minutes)))
        if person.id == question["person"]
        else person
        for person in work.people
    )
    return replace(work, people=people)


def _stage_changed(work: Workload, question: Question) -> Workload:
    if question["stage"] not in {stage.id for stage in work.stages}:
        raise Senseless("That work is done, or not planned any more.")
    ready = (date.fromisoformat(question["day"]) - work.origin).days if question.get("day") else 0
    stages = tuple(
        replace(
            stage, minutes=stage.minutes + question.get("minutes", 0), ready=max(stage.ready, ready), pin=None
        )
        if stage.id == question["stage"]
        else stage
        for stage in work.stages
    )
    return replace(work, stages=stages)


def _one_more(work: Workload, question: Question, shop: Shop) -> tuple[Workload, Workload]:
    enquiry = Enquiry.objects.waiting().filter(pk=question["enquiry"]).first()
    if enquiry is None:
        raise Senseless("That enquiry is an order already, or was declined.")
    work = without(enquiry, work)
    new = new_order_of(enquiry, shop, work)
    if new is None:
        raise Senseless("Its work is not known. Answer the enquiry first.")
    return work, with_order(work, replace(new, due=replace(new.due, firm=True, weight=1)))


def late_already(work: Workload) -> list[str]:
    """Return the orders that are late in the plan as it stands."""
    return sorted(order for order, days in timetable_of(work).late.items() if days > 0)


def as_facts(effect: Effect, work: Workload) -> dict[str, Any]:
    """Return an effect as plain facts that can be kept: days as dates, overtime by person and day."""
    late = {order: days for order, days in effect.late.items() if not order.startswith(PENCILED)}
    due = {each.order: each.day for each in work.dues}
    return {
        "late": [[order, days, _iso(work, due[order] + days)] for order, days in late.items()],
        "moved": len(effect.moved.stages),
        "at_least": effect.overtime_at_least,
        "enough": effect.overtime_enough,
        "extra": [[who, _iso(work, day), minutes] for (who, day), minutes in effect.extra.items() if minutes],
        "beyond_help": list(effect.beyond_help),
    }


def _iso(work: Workload, day: int) -> str:
    return (work.origin + timedelta(days=day)).isoformat()


def late_in_words(count: int) -> str:
    """Say how many quilts become late."""
    if not count:
        return "No quilt becomes late."
    return f"{count} quilt{'' if count == 1 else 's'} would be late."


def overtime_by_week(extra: list[list[Any]]) -> list[tuple[str, date, int]]:
    """Return overtime added up by person and week: name, Monday, minutes."""
    found: dict[tuple[date, str], int] = defaultdict(int)
    for who, written, minutes in extra:
        day = date.fromisoformat(written)
        found[day - timedelta(days=day.weekday()), who] += minutes
    return [(who, monday, minutes) for (monday, who), minutes in sorted(found.items())]


def overtime_of(extra: list[list[Any]]) -> list[tuple[Person, date, int]]:
    """Return overtime with the people it is meant for, as far as they still work here."""
    people = {person.name: person for person in Person.objects.filter(is_active=True)}
    return [(people[who], date.fromisoformat(day), minutes) for who, day, minutes in extra if who in people]
