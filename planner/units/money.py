"""Money in whole minor units, and prices per something, rounded once when applied."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import total_ordering

from planner.problems import BadInput

from .currency import decimals
from .length import INCH, METRE, YARD

ROUNDINGS = ("half up", "half even", "up", "down")
PER = {"each": 1, "hour": 60, "in": INCH, "in2": INCH * INCH, "yd": YARD, "m": METRE, "m2": METRE * METRE}


def round_exactly(value: Fraction | Decimal, rounding: str = "half up") -> int:
    """Round once to a whole number; halves go away from zero unless `rounding` says otherwise.

    `half up` is the Streamlined Sales and Use Tax Agreement's rule (section 324).
    """
    if rounding not in ROUNDINGS:
        raise BadInput("rounding", f"must be one of {', '.join(ROUNDINGS)}.")
    if isinstance(value, float):
        raise BadInput("value", "must be exact, never a float.")
    exact = Fraction(value)
    whole, rest = divmod(abs(exact), 1)
    up = {
        "half up": rest >= Fraction(1, 2),
        "half even": rest > Fraction(1, 2) or (rest == Fraction(1, 2) and whole % 2 == 1),
        "up": rest > 0,
        "down": False,
    }[rounding]
    size = int(whole) + int(up)
    return -size if exact < 0 else size


@total_ordering
@dataclass(frozen=True)
class Money:
    """An amount in whole minor units (cents, yen, fils) of one ISO 4217 currency."""

    minor: int
    currency: str

    def __post_init__(self) -> None:
        if not isinstance(self.minor, int) or isinstance(self.minor, bool):
            raise BadInput("minor", "money is a whole number of minor units, never a fraction.")
        decimals(self.currency)

    def __add__(self, other: Money) -> Money:
        return Money(self.minor + self._same(other), self.currency)

    def __sub__(self, other: Money) -> Money:
        return Money(self.minor - self._same(other), self.currency)

    def __neg__(self) -> Money:
        return Money(-self.minor, self.currency)

    def __lt__(self, other: Money) -> bool:
        return self.minor < self._same(other)

    def _same(self, other: Money) -> int:
        if other.currency != self.currency:
            raise BadInput("currency", f"{self.currency} and {other.currency} cannot be reckoned together.")
        return other.minor


@dataclass(frozen=True)
class Rate:
    """A price per something: `minor` minor units, an exact decimal, for one `per`.

    `per` is each, hour, in, in2, yd, m or m2; what it is applied to is a count, minutes,
    ticks or ticks².
    """

    minor: Decimal
    currency: str
    per: str = "each"

    def __post_init__(self) -> None:
        if isinstance(self.minor, bool) or not isinstance(self.minor, Decimal | int):
            raise BadInput("minor", "a rate is an exact decimal, never a float.")
        if isinstance(self.minor, int):
            object.__setattr__(self, "minor", Decimal(self.minor))
        if not self.minor.is_finite():
            raise BadInput("minor", "a rate must be a number.")
        if self.per not in PER:
            raise BadInput("per", f"must be one of {', '.join(PER)}.")
        decimals(self.currency)

    def on(self, amount: int, *, rounding: str = "half up") -> Money:
        """Return the price of `amount` (a count, minutes, ticks or ticks²), rounded once."""
        exact = Fraction(self.minor) * amount / PER[self.per]
        return Money(round_exactly(exact, rounding), self.currency)


def total(amounts: Iterable[Money], currency: str) -> Money:
    """Add amounts of one currency up; none at all make nothing."""
    return sum(amounts, start=Money(0, currency))


def parse_money(text: str, currency: str) -> Money:
    """Return the money written as a plain decimal such as `36.00` or `-5`, in `currency`."""
    places = decimals(currency)
    if not isinstance(text, str) or not re.fullmatch(r"-?\d+(\.\d+)?", text.strip()):
        raise BadInput("money", f'“{text}” is not an amount; write it as text like "36.00".')
    scaled = Fraction(text.strip()) * 10**places
    if scaled.denominator != 1:
        raise BadInput("money", f"“{text}” is finer than {currency} allows ({places} decimals).")
    return Money(int(scaled), currency)


def show_money(money: Money) -> str:
    """Return the amount as a plain decimal with its currency, such as `468.00 USD`."""
    places = decimals(money.currency)
    sign, size = "-" if money.minor < 0 else "", abs(money.minor)
    whole, rest = divmod(size, 10**places)
    return f"{sign}{whole:,}{f'.{rest:0{places}d}' if places else ''} {money.currency}"
