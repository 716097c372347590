"""One price told over several quilts: each keeps its own sum, and the cents come out as if it were one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from itertools import accumulate

from planner.problems import BadInput
from planner.units import Money, round_exactly

from .checks import share_of_one, whole
from .pricing import Pricing
from .shares import split


def split_in_turn(totals: Sequence[Money], weights: Sequence[int | Decimal]) -> tuple[tuple[Money, ...], ...]:
    """Return each total divided by weight so that their running sums are divided as `split` divides them.

    A cent that is over falls to another part the next time, so that all parts together come out as one
    sum would.
    """
    running = [split(each, weights) for each in accumulate(totals)]
    before = [tuple(Money(0, each.currency) for each in parts) for parts in running[:1]] + running[:-1]
    return tuple(
        tuple(now - then for now, then in zip(parts, earlier, strict=True))
        for parts, earlier in zip(running, before, strict=True)
    )


def told_together(pricings: Sequence[Pricing], *, deposit: Decimal, instalments: int) -> tuple[Pricing, ...]:
    """Return prices that are told as one: deposits and parts of the rest add up to those of the whole.

    Lines, tax and total of each stay as they are; only which cent is paid when may move.
    """
    share_of_one("deposit", deposit)
    whole("instalments", instalments, 1)
    if len({each.total.currency for each in pricings}) > 1:
        raise BadInput("pricings", "must all be in one currency.")
    first = _deposits([each.total for each in pricings], deposit)
    rests = [each.total - paid for each, paid in zip(pricings, first, strict=True)]
    parts = split_in_turn(rests, [1] * instalments)
    return tuple(
        replace(each, deposit=paid, instalments=rest if any(part.minor for part in rest) else ())
        for each, paid, rest in zip(pricings, first, parts, strict=True)
    )


def _deposits(totals: Sequence[Money], share: Decimal) -> list[Money]:
    running = [round_exactly(each.minor * Fraction(share)) for each in accumulate(totals)]
    steps = zip(totals, running, [0, *running], strict=False)
    return [Money(now - before, total.currency) for total, now, before in steps]
