"""An example by which the two ways of rounding a tax are told apart: line by line, and once for the bill."""

from __future__ import annotations

from dataclasses import dataclass, replace

from planner.units import Money, decimals

from .bill import KINDS, Line
from .taxes import Tax, taxes_on

FINER = (2, 4, 10, 20, 100, 1000)


@dataclass(frozen=True)
class ToldApart:
    """Some lines of one amount: the tax on one of them, on each apart in all, and on all at once."""

    amount: Money
    count: int
    of_one: Money
    by_line: Money
    at_once: Money

    @property
    def sum(self) -> Money:
        """What the lines come to."""
        return Money(self.amount.minor * self.count, self.amount.currency)


def told_apart(due: Tax, near: Money, *, rounding: str = "half up") -> ToldApart | None:
    """Return two or three equal lines whose tax differs between the two ways, of the amount next to `near`.

    Amounts in half units are tried first, then ever finer ones. None where none is found, as at a
    rate of 0.
    """
    everything = replace(due, kinds=frozenset(KINDS))
    unit = 10 ** decimals(near.currency)
    for step in dict.fromkeys(max(unit // part, 1) for part in FINER):
        first = near.minor - near.minor % step + step
        for minor in range(first, first + 20 * step, step):
            for count in (2, 3):
                found = _rounded(everything, Money(minor, near.currency), count, rounding)
                if found.by_line != found.at_once:
                    return found
    return None


def _rounded(due: Tax, amount: Money, count: int, rounding: str) -> ToldApart:
    line = Line.of(due.words, amount)

    def reckoned(lines: list[Line], tax_per: str) -> Money:
        told = taxes_on(lines, [due], currency=amount.currency, rounding=rounding, tax_per=tax_per)
        return told[0].amount

    of_one, by_line = reckoned([line], "line"), reckoned([line] * count, "line")
    return ToldApart(amount, count, of_one, by_line, reckoned([line] * count, "invoice"))
