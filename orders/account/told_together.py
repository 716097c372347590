"""Prices told together, such as of two quilts out of one bag: one quote, one yes, each its own account."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from django.db import transaction

from orders.models import CannotAccept, Order, Person, Quote


def lock(orders: Iterable[Order]) -> list[Order]:
    """Hold orders for this transaction, always in the same order, so that two never wait for each other."""
    held = Order.objects.select_for_update().filter(pk__in=[each.pk for each in orders])
    return list(held.order_by("pk"))


def can_be_told_with(order: Order) -> list[Order]:
    """Return the other orders of the same customer, or out of the same bag, that the same people pay for.

    None that has its yes already: its price stands.
    """
    others = Order.objects.in_the_workroom().waiting_beside(order)
    mine = _who_pays(order)
    return [each for each in others if _who_pays(each) == mine]


def _who_pays(order: Order) -> list[tuple[int, int, int]]:
    """Who pays what, whoever was written down first; from rows that were read already."""
    return sorted((each.customer_id, each.share, each.set_amount) for each in order.payers.all())


def let_go(last: Iterable[Quote | None], *, on: date, by: Person) -> None:
    """Take back what was told together with quotes that are now told anew, unless it is told anew as well."""
    anew = [each for each in last if each is not None]
    for quote in anew:
        for other in quote.all_told():
            if other.order_id not in {each.order_id for each in anew} and other.standing(on=on) == "open":
                other.withdraw(by=by)


@transaction.atomic
def withdraw(quote: Quote, *, by: Person) -> None:
    """Take an open quote back, with all that was told together with it."""
    told = quote.all_told()
    lock(each.order for each in told)
    for each in told:
        each.withdraw(by=by)


def refuse_what_was_called_off(orders: Iterable[Order]) -> None:
    """Refuse a yes to the price of an order that was called off."""
    if any(each.cancelled_at is not None for each in orders):
        raise CannotAccept("This order was called off. Open it again first.")
