"""An order that rests: it asks for no time and for no money until it is taken up again."""

from __future__ import annotations

from django.db import transaction

from orders.models import Order, Person


class CannotRest(Exception):
    """An order that is no longer in the workroom; the message says so."""


@transaction.atomic
def pause(order: Order, *, why: str, by: Person) -> None:
    """Let an order rest; one that rests already keeps its first reason."""
    now = Order.objects.select_for_update().get(pk=order.pk)
    if now.handed_over_at is not None or now.cancelled_at is not None:
        raise CannotRest("It is not in the workroom any more, so there is nothing to pause.")
    now.pause(why=why, by=by)


@transaction.atomic
def go_on(order: Order, *, by: Person) -> None:
    """Take an order up again; twice is once."""
    Order.objects.select_for_update().get(pk=order.pk).go_on(by=by)
