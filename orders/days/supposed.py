"""What comes of a supposition, as the page shows it: who is late, whom to ask, what to say; and doing it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from django.template.loader import render_to_string

from orders.days.days_off import take_off
from orders.days.replanning import Deeds, overtime_deeds, replan, stage_deeds
from orders.days.supposing import overtime_by_week, overtime_of
from orders.models import DayOff, Enquiry, Errand, Order, Person, Replan, Shop, Stage
from orders.templatetags.shop import day as short_day
from orders.templatetags.shop import hours
from planner.brief import ORDER

PENCILED_DAYS = 7


@dataclass(frozen=True)
class Late:
    """A quilt that would be late, the day it would be ready, and the words that ask for it kindly.

    `already` says that it is late as things stand, and would only be later.
    """

    order: Order
    days: int
    ready: date
    words: str
    beyond_help: bool
    already: bool = False

    @property
    def is_after_her_day(self) -> bool:
        """Say whether it is later than the day it is needed, not only than the day planned."""
        return self.order.needed_by is None or self.ready > self.order.needed_by


@dataclass(frozen=True)
class Outcome:
    """What would come of it. `weeks` is the overtime that suffices, by person and week.

    `itself` is the day the one more order would be ready, where that is after its own.
    """

    late: tuple[Late, ...]
    moved: int
    at_least: int
    enough: int | None
    weeks: tuple[tuple[str, date, int], ...]
    penciled: tuple[Enquiry, ...]
    itself: date | None = None

    @property
    def already(self) -> int:
        """How many are late as things stand."""
        return sum(each.already for each in self.late)


def in_words(question: Mapping[str, Any]) -> str:
    """Return what was supposed: `Ada is ill Mon 3 May to Fri 7 May`; empty where it is gone."""
    kind = question["kind"]
    if kind == "ill":
        first, last = (date.fromisoformat(question[name]) for name in ("first", "last"))
        days = short_day(first) if first == last else f"{short_day(first)} to {short_day(last)}"
        return f"{question['person']} is ill {days}"
    if kind == "more":
        found = Enquiry.objects.filter(pk=question["enquiry"]).first()
        return f"One more order: {found.name}" if found else ""
    stage = Stage.objects.select_related("order").filter(pk=question["key"]).first()
    if stage is None:
        return ""
    if kind == "slip":
        return f"{stage.kind.capitalize()} takes {hours(question['minutes'])} longer, {stage.order}"
    return f"Cloth for {stage.kind} is here {short_day(date.fromisoformat(question['day']))}, {stage.order}"


def outcome_of(asked: Errand, shop: Shop) -> Outcome | None:
    """Return what was found, None while nothing is."""
    answer = asked.payload.get("answer")
    if answer is None:
        return None
    orders = {str(each): each for each in Order.objects.in_the_workroom().select_related("customer")}
    late = [
        replace(
            _late(
                orders[name], days, date.fromisoformat(ready), shop=shop, lost=name in answer["beyond_help"]
            ),
            already=name in answer.get("already", []),
        )
        for name, days, ready in answer["late"]
        if name in orders
    ]
    late.sort(key=lambda each: (each.order.needed_by or date.max, each.order.number))
    return Outcome(
        tuple(late),
        answer["moved"],
        answer["at_least"],
        answer["enough"],
        tuple(overtime_by_week(answer["extra"])),
        tuple(Enquiry.objects.penciled(on=shop.today())) if late else (),
        next((date.fromisoformat(ready) for name, _, ready in answer["late"] if name == ORDER), None),
    )


def _late(order: Order, days: int, ready: date, *, shop: Shop, lost: bool) -> Late:
    words = render_to_string("if/ask_words.txt", {"order": order, "shop": shop, "ready": ready})
    return Late(order, days, ready, words.strip(), beyond_help=lost)


def do(asked: Errand, shop: Shop, *, with_overtime: bool, by: Person) -> Replan | None:
    """Make what was supposed true, with the overtime that suffices if that is wished."""
    question, answer = asked.payload["question"], asked.payload.get("answer") or {"extra": []}

    def deed() -> Deeds:
        deeds = _deeds(question, by)
        if with_overtime:
            deeds += overtime_deeds(overtime_of(answer["extra"]), by=by)
        return deeds

    return replan(shop, in_words(question), deed, by=by)


def _deeds(question: Mapping[str, Any], by: Person) -> Deeds:
    if question["kind"] == "ill":
        first, last = (date.fromisoformat(question[name]) for name in ("first", "last"))
        person = Person.objects.filter(name=question["person"], is_active=True).first()
        if person is None:
            return []
        return [
            ["day off", off.pk] for off in take_off(first, last, person=person, by=by, why=DayOff.Why.ILL)
        ]
    stage = Stage.objects.to_do().select_related("order").filter(pk=question.get("key", 0)).first()
    if stage is None:
        return []
    if question["kind"] == "slip":
        return stage_deeds(stage, by=by, minutes=stage.minutes + question["minutes"])
    return stage_deeds(stage, by=by, waits_until=date.fromisoformat(question["day"]))


def pencil_in(asked: Errand, shop: Shop, *, by: Person) -> Enquiry | None:
    """Hold a place for the one more order."""
    found = Enquiry.objects.waiting().filter(pk=asked.payload["question"]["enquiry"]).first()
    if found is not None:
        found.pencil_in(days=PENCILED_DAYS, on=shop.today(), by=by)
    return found
