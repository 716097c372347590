"""The shop's price list, and the lines it makes for one quilt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from planner.problems import BadInput
from planner.quilt import PER, Bag, Quilt, amount_of
from planner.units import Money, Rate

from .checks import whole

KINDS = ("labour", "materials", "outside", "shipping", "credit")
_MEASURED = {"in2": ("in2", "m2"), "plush-back": ("in2", "m2"), "in": ("in", "yd", "m")}


@dataclass(frozen=True)
class Rule:
    """One entry of the price list: what is charged for each `per` of a quilt.

    `per` is one of `planner.quilt.PER`, or `garment:` and a kind or flag of garments. What is
    counted has a rate for each; the area, `in2`, one per in2 or m2; the edge, `in`, one per
    in, yd or m. Where there is any of it, no less than `least` is charged.
    """

    words: str
    per: str
    rate: Rate
    kind: str = "labour"
    least: Money | None = None

    def __post_init__(self) -> None:
        _say_what_for(self.words, self.kind)
        if self.least is not None and (self.least.minor < 1 or self.least.currency != self.rate.currency):
            raise BadInput("least", "must be more than 0, in the currency of the rate.")
        word = self.per.removeprefix("garment:").strip() if self.per.startswith("garment:") else ""
        if not word and self.per not in PER:
            raise BadInput("per", f"“{self.per}” is not one of {', '.join(PER)}.")
        fitting = _MEASURED.get(self.per, ("each",))
        if self.rate.per not in fitting:
            raise BadInput("rate", f"what is charged by {self.per} has a price per {' or '.join(fitting)}.")

    def line(self, count: int) -> Line:
        """Return the line of so much of it, in what the rate applies to."""
        charged = self.rate.on(count)
        if self.least is not None and charged < self.least:
            return Line.of(f"{self.words}, at least", self.least, kind=self.kind)
        return Line(self.words, count, self.rate, charged, self.kind)


@dataclass(frozen=True)
class Line:
    """One line of a bill: `count` of something at `each` makes `amount`.

    `count` is in what the rate applies to: a count, minutes, ticks or ticks². A credit is a
    reduction of the price and has a rate below 0; a gift certificate is a payment and no line.
    """

    words: str
    count: int
    each: Rate
    amount: Money
    kind: str = "labour"

    def __post_init__(self) -> None:
        _say_what_for(self.words, self.kind)
        whole("count", self.count, 1)
        if self.each.on(self.count) != self.amount:
            raise BadInput("amount", "is not the count times the price of each.")
        if self.kind == "credit" and self.amount.minor > 0:
            raise BadInput("each", "a credit lowers the price; give it a rate below 0.")

    @classmethod
    def of(cls, words: str, amount: Money, *, kind: str = "labour") -> Line:
        """Return the line of a single thing that costs `amount`."""
        return cls(words, 1, Rate(Decimal(amount.minor), amount.currency), amount, kind)


def lines(
    quilt: Quilt, bag: Bag, rules: Sequence[Rule], *, extras: tuple[Line, ...] = (), back: str = ""
) -> tuple[Line, ...]:
    """Return a line for every rule the quilt has something of, in the list's order, then the extras.

    `back` is the kind of cloth behind it; what is charged for plush is charged for a back of plush alone.
    """
    holding = (rule for rule in rules if rule.per != "plush-back" or back == "plush")
    counted = ((rule, amount_of(rule.per, quilt, bag)) for rule in holding)
    made = (rule.line(count) for rule, count in counted if count)
    return (*made, *extras)


def by_the_pillow(rules: Sequence[Rule], count: int, *, size: str = "") -> tuple[Line, ...]:
    """Return what the price list charges for so many pillows, which need no layout; `size` in words."""
    sized = (replace(rule, words=", ".join(filter(None, (rule.words, size)))) for rule in rules)
    return tuple(rule.line(count) for rule in sized if rule.per == "pillow")


def by_the_hour(words: str, minutes: int, rate: Rate, *, most: Money | None = None) -> Line:
    """Return the line of work charged by the hour, such as a repair, `most` at most."""
    if rate.per != "hour":
        raise BadInput("rate", "must be a rate per hour.")
    charged = rate.on(minutes)
    if most is not None and most < charged:
        return Line.of(words, most)
    return Line(words, minutes, rate, charged)


def _say_what_for(words: str, kind: str) -> None:
    if not words.strip():
        raise BadInput("words", "must say what the money is for.")
    if kind not in KINDS:
        raise BadInput("kind", f"“{kind}” is not one of {', '.join(KINDS)}.")
