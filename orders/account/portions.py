"""Who pays what of an order: a share, or a set amount that comes off first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from orders.models import Order, Payer, Quote
from planner.price import Portion, portions_in_turn
from planner.units import Money


def portions_of(payers: Iterable[Payer]) -> tuple[Portion, ...]:
    """Return what each payer pays, in their order."""
    return tuple(Portion(each.share, each.set_amount) for each in payers)


def who_pays(order: Order) -> list[tuple[int, int, int]]:
    """Return customer, share and set amount of each payer, in the order they were written down."""
    return list(order.payers.order_by("pk").values_list("customer_id", "share", "set_amount"))


@dataclass(frozen=True)
class Part:
    """What one of several payers pays of a quote, in minor units."""

    payer: str
    minor: int


def parts_of(quote: Quote) -> list[Part]:
    """Return what each of several payers would pay of a quote; nothing where one pays it all."""
    payers = list(quote.order.payers.select_related("customer").order_by("pk"))
    if len(payers) < 2:
        return []
    minors = of_the_quote(quote, portions_of(payers))
    return [Part(each.customer.name, minor) for each, minor in zip(payers, minors, strict=True)]


def of_the_quote(quote: Quote, portions: Sequence[Portion]) -> list[int]:
    """Divide a quote's total, the cents as over all that is told together with it and before it."""
    told = [(int(each["order"]), int(each["total"])) for each in quote.together]
    numbers = [number for number, _ in told]
    upto = numbers.index(quote.order.number) if quote.order.number in numbers else 0
    totals = [*(total for _, total in told[:upto]), quote.total]
    divided = portions_in_turn([Money(each, quote.currency) for each in totals], portions)
    return [each.minor for each in divided[-1]]
