"""How a paper says an amount, a length, a day and a count: written out once, when it is made."""

from __future__ import annotations

from datetime import date

from orders.models import Order, Shop
from orders.templatetags import shop as filters
from orders.templatetags.shop import HARD_SPACE
from planner.units import Size

_ONES = """
none one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen
seventeen eighteen nineteen
"""
_TENS = "ten twenty thirty forty fifty sixty seventy eighty ninety"
ONES, TENS = _ONES.split(), _TENS.split()


def in_words(number: int) -> str:
    """Return a count in words, as it is said at the door: `twelve`, `one hundred and four`."""
    if number < 20:
        return ONES[number]
    if number < 100:
        ten, one = divmod(number, 10)
        return TENS[ten - 1] + (f"-{ONES[one]}" if one else "")
    hundred, rest = divmod(number, 100)
    if number < 1000:
        return f"{ONES[hundred]} hundred" + (f" and {in_words(rest)}" if rest else "")
    return str(number)


def long_day(on: date) -> str:
    """Return a day in full, with its year; a line may break after the weekday alone."""
    return f"{on:%A} " + HARD_SPACE.join((str(on.day), f"{on:%B}", str(on.year)))


def thing_of(order: Order) -> str:
    """Return what an order is about: a quilt, a pillow, a wall piece; what is mended is a quilt."""
    return order.thing


class Saying:
    """Words for one shop's paper."""

    def __init__(self, shop: Shop) -> None:
        self.shop = shop

    def money(self, minor: int) -> str:
        """Return an amount as the shop's place writes it."""
        return str(filters.money(minor, self.shop))

    def length(self, ticks: int) -> str:
        """Return a length in the shop's unit."""
        return str(filters.measure(ticks, self.shop))

    def cloth_length(self, ticks: int) -> str:
        """Return a length of cloth as it is sold."""
        return str(filters.cloth_length(ticks, self.shop))

    def size(self, size: Size) -> str:
        """Return a width and a height."""
        return str(filters.size(size, self.shop))

    def day(self, on: date | None) -> str:
        """Return a day in full, with its year."""
        return long_day(on) if on else ""
