"""Who pays what of an order: a share, or a set amount that comes off first.

Set amounts are kept with what was wished for the order, by the number of the customer.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

from orders.models import Order, Payer, Quote
from planner.price import Portion, portions_in_turn
from planner.units import Money

KEY = "set amounts"


class Wished(Protocol):
    """An order as far as it says who gives how much."""

    wish: dict[str, Any]


def set_amount(order: Wished, customer: int) -> int:
    """Return the set amount a customer gives to an order, in minor units; 0 where they pay a share."""
    return int(order.wish.get(KEY, {}).get(str(customer), 0))


def portion_of(order: Wished, customer: int, share: int) -> Portion:
    """Return what one payer pays, from the number of the customer and the share written down."""
    return Portion(share, set_amount(order, customer))


def portions_of(order: Wished, payers: Iterable[Payer]) -> tuple[Portion, ...]:
    """Return what each payer pays, in their order."""
    return tuple(portion_of(order, each.customer_id, each.share) for each in payers)


def who_pays(order: Order) -> list[tuple[int, int, int]]:
    """Return customer, share and set amount of each payer, in the order they were written down."""
    rows = order.payers.order_by("pk").values_list("customer_id", "share")
    return [(customer, share, set_amount(order, customer)) for customer, share in rows]


def set_amounts(order: Order, amounts: Mapping[int, int]) -> None:
    """Keep the set amounts by customer, inside the transaction that holds the order; 0 takes one out."""
    kept = {str(customer): minor for customer, minor in sorted(amounts.items()) if minor}
    if kept != order.wish.get(KEY, {}):
        others = {name: value for name, value in order.wish.items() if name != KEY}
        order.change(seen=order.version, wish=others | ({KEY: kept} if kept else {}))


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
    minors = of_the_quote(quote, portions_of(quote.order, payers))
    return [Part(each.customer.name, minor) for each, minor in zip(payers, minors, strict=True)]


def of_the_quote(quote: Quote, portions: Sequence[Portion]) -> list[int]:
    """Divide a quote's total, the cents as over all that is told together with it and before it."""
    told = [(int(each["order"]), int(each["total"])) for each in quote.together]
    numbers = [number for number, _ in told]
    upto = numbers.index(quote.order.number) if quote.order.number in numbers else 0
    totals = [*(total for _, total in told[:upto]), quote.total]
    divided = portions_in_turn([Money(each, quote.currency) for each in totals], portions)
    return [each.minor for each in divided[-1]]
