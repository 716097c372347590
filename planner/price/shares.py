"""Dividing a sum so that the parts add up to it exactly."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from planner.problems import BadInput
from planner.units import Money

from .checks import exact


def split(total: Money, weights: Sequence[int | Decimal]) -> tuple[Money, ...]:
    """Return `total` divided by weight, every part within one minor unit of its exact share.

    Largest remainder (A. Hamilton, 1792): each part is rounded down, the units left over go to
    the parts cut shortest, ties to the first. A sum below nothing is divided like its opposite.
    """
    shares = _exact_shares(abs(total.minor), weights)
    whole = [int(share) for share in shares]
    left = abs(total.minor) - sum(whole)
    shortest = sorted(range(len(shares)), key=lambda part: whole[part] - shares[part])
    for part in shortest[:left]:
        whole[part] += 1
    sign = -1 if total.minor < 0 else 1
    return tuple(Money(sign * minor, total.currency) for minor in whole)


def _exact_shares(minor: int, weights: Sequence[int | Decimal]) -> list[Fraction]:
    for number, weight in enumerate(weights):
        exact(f"weights[{number}]", weight)
        if weight < 0:
            raise BadInput(f"weights[{number}]", "must not be below 0.")
    whole = sum(map(Fraction, weights), start=Fraction(0))
    if not whole:
        raise BadInput("weights", "at least one must be more than 0.")
    return [minor * Fraction(weight) / whole for weight in weights]
