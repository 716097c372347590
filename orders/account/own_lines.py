"""The lines of a price that no layout makes: those the owner writes, and a pillow of the price list."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from orders.account.quote_words import hours_in_words, pillow_in_words, plain
from orders.models import ExtraLine, Order, Shop
from orders.templatetags.shop import size
from planner.price import Line, by_the_hour, by_the_pillow
from planner.quilt import Quilt
from planner.units import Money, Rate, Size

BY_THE_PILLOW = "Or put a price for each pillow on the price list in the Workroom: then it needs no layout."


def extras_of(order: Order, shop: Shop) -> tuple[Line, ...]:
    """Return the lines that the owner wrote on the quotes to come."""
    return tuple(_line_of(each, shop) for each in order.extra_lines.all())


def _line_of(extra: ExtraLine, shop: Shop) -> Line:
    currency = shop.currency
    if extra.minutes is None or extra.an_hour is None:
        return Line.of(extra.words, Money(extra.minor, currency), kind=extra.kind)
    most = Money(extra.most, currency) if extra.most is not None else None
    rate = Rate(Decimal(extra.an_hour), currency, "hour")
    made = by_the_hour(extra.words, extra.minutes, rate, most=most)
    return Line.of(hours_in_words(extra, shop), made.amount, kind=extra.kind)


def pillows_of(order: Order, shop: Shop) -> tuple[Line, ...]:
    """Return what the price list charges for an order of one pillow; nothing for any other order."""
    if order.kind != Order.Kind.PILLOW:
        return ()
    wanted = Size(order.width, order.height) if order.width and order.height else None
    rules = shop.shop_rules().rules
    at_the_rate = [rule.rate for rule in rules if rule.per == "pillow"]
    made = by_the_pillow(rules, 1, size=plain(size(wanted, shop)))
    return tuple(
        replace(line, words=pillow_in_words(line, shop)) if line.each in at_the_rate else line
        for line in made
    )


def pillow_hint(order: Order, quilt: Quilt | None) -> Iterator[str]:
    """Yield how a pillow that is not drawn could be priced all the same."""
    if order.kind == Order.Kind.PILLOW and quilt is None:
        yield BY_THE_PILLOW
