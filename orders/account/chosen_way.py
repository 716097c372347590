"""The way an order is taken: in its place, as a rush, or with the quilter outside; what that changes."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from django.db import transaction

from orders.models import Event, Order, Person
from planner.brief import ShopRules
from planner.schedule import Workload

PLACE, RUSH, OUTSIDE = "place", "rush", "outside"
WAYS = (PLACE, RUSH, OUTSIDE)


def way_of(order: Order) -> str:
    """Return the way that was chosen; in its place where none was."""
    way = order.wish.get("way", PLACE)
    return way if way in WAYS else PLACE


@transaction.atomic
def choose(order: Order, way: str, *, by: Person) -> None:
    """Take an order in a way; what its next quote carries, and what its yes books."""
    now = Order.objects.select_for_update().get(pk=order.pk)
    if way in WAYS and way_of(now) != way:
        order.wish = {**now.wish, "way": way}
        order.save(update_fields=["wish"])
        Event.objects.note("way chosen", by=by, order=order, way=way)


def rules_for(rules: ShopRules, way: str) -> ShopRules:
    """Return the shop's rules for a way: the surcharge is for a rush alone, and outside no frame is asked."""
    terms = rules.terms if way == RUSH else replace(rules.terms, rush=Decimal(0))
    out = replace(rules.quilter, over=0) if rules.quilter and way == OUTSIDE else rules.quilter
    return replace(rules, terms=terms, quilter=out)


def work_for(work: Workload, way: str, cushions: dict[str, int]) -> Workload:
    """Return the work beside an order: a rush may use the days kept free before other quilts' days."""
    if way != RUSH:
        return work
    dues = tuple(
        replace(due, day=due.day + cushions.get(due.order, 0)) if due.firm else due for due in work.dues
    )
    return replace(work, dues=dues)
