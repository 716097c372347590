"""Sales tax as the shop has set it: how much, on what, in the price or on top of it.

What is taxed, at which rate and how it is rounded differ by place and change; ask the local tax
authority or an accountant.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from planner.problems import BadInput
from planner.units import Money, round_exactly

from .bill import KINDS, Line
from .checks import share_of_one

TAX_PER = ("invoice", "line")


@dataclass(frozen=True)
class Tax:
    """A tax of `rate` (0.07 for 7 %) on lines of some kinds; `inclusive` when prices hold it already.

    Taxes are not charged on one another. State and local tax that are rounded together are one
    Tax with the sum of their rates.
    """

    rate: Decimal
    kinds: frozenset[str] = frozenset(KINDS)
    inclusive: bool = False
    words: str = "Tax"

    def __post_init__(self) -> None:
        share_of_one("rate", self.rate)
        strange = sorted(self.kinds - set(KINDS))
        if strange:
            raise BadInput("kinds", f"“{strange[0]}” is not one of {', '.join(KINDS)}.")
        if not self.words.strip():
            raise BadInput("words", "must name the tax.")


@dataclass(frozen=True)
class Taxed:
    """What one tax comes to on a bill."""

    words: str
    rate: Decimal
    amount: Money
    inclusive: bool = False


def tax(amount: Money, rate: Decimal, *, rounding: str = "half up") -> Money:
    """Return the tax on `amount`, rounded once from the exact product.

    Half up is the Streamlined Sales and Use Tax Agreement's rule (section 324).
    """
    share_of_one("rate", rate)
    return Money(round_exactly(amount.minor * Fraction(rate), rounding), amount.currency)


def taxes_on(
    lines: Sequence[Line], taxes: Sequence[Tax], *, currency: str, rounding: str, tax_per: str
) -> tuple[Taxed, ...]:
    """Return what each tax comes to, rounded once for the whole bill or once for every line.

    Where the lines' taxes come to another sum than one of the whole bill would, its words say so.
    """
    due = {
        way: [_due(lines, each, taxes, rounding=rounding, tax_per=way) for each in taxes] for way in TAX_PER
    }
    return tuple(
        Taxed(
            words=each.words if minor == once else f"{each.words}, rounded line by line",
            rate=each.rate,
            amount=Money(minor, currency),
            inclusive=each.inclusive,
        )
        for each, minor, once in zip(taxes, due[tax_per], due["invoice"], strict=True)
    )


def _due(lines: Sequence[Line], due: Tax, taxes: Sequence[Tax], *, rounding: str, tax_per: str) -> int:
    exact = [_before_tax(line, taxes) * Fraction(due.rate) for line in lines if line.kind in due.kinds]
    if tax_per == "line":
        return sum(round_exactly(each, rounding) for each in exact)
    return round_exactly(sum(exact, start=Fraction(0)), rounding)


def _before_tax(line: Line, taxes: Sequence[Tax]) -> Fraction:
    held = sum(Fraction(each.rate) for each in taxes if each.inclusive and line.kind in each.kinds)
    return line.amount.minor / (1 + Fraction(held))
