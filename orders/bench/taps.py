"""Taps at the bench, for blocks of one order or of several: each is applied once, however often it comes.

A tap is made where the work is, and may arrive hours later: what was agreed then may be taken back by now,
so each rule is looked at again, and what is refused is refused in a sentence.
"""

from __future__ import annotations

from collections.abc import Iterable

from django.db import transaction

from orders.bench import work
from orders.models import Block, Event, Order, Person
from orders.models.event import Tap

IF_DONE_ALREADY = " If it is done already, tap Not right and say so: nobody is blamed."


@transaction.atomic
def apply(client_id: str, kind: str, blocks: Iterable[int], *, by: Person) -> list[Event]:
    """Do these blocks, all or none, and return what came of it; the same tap again changes nothing."""
    chosen = Block.objects.filter(pk__in=list(blocks)).select_related("order").order_by("order", "cell")
    by_order: dict[int, list[int]] = {}
    for block in chosen:
        by_order.setdefault(block.order_id, []).append(block.pk)
    orders = Order.objects.select_for_update(of=("self",)).filter(pk__in=by_order).order_by("pk")
    deeds = [_once(f"{client_id}-{order.number}", order, kind, by_order[order.pk], by=by) for order in orders]
    return [deed for deed in deeds if deed is not None]


def _once(tap_id: str, order: Order, kind: str, blocks: list[int], *, by: Person) -> Event | None:
    before = Tap.objects.filter(pk=tap_id).select_related("deed").first()
    if before is not None:
        return before.deed
    if order.handed_over_at is not None or order.cancelled_at is not None:
        raise work.NotYet(f"{order} has left the workroom, so nothing of it is done any more.")
    try:
        deed = work.do_pile(order, kind, blocks, by=by)
    except work.NotYet as fault:
        raise work.NotYet(f"{fault}{IF_DONE_ALREADY}") from fault
    Tap.objects.create(client_id=tap_id, deed=deed)
    return deed
