"""What the maker's own terms come to once a price is agreed: rounds, storage, calling off.

Nothing here has a usual figure: the maker writes the terms, and whether they hold is for local
law. An answer is a proposal; nobody owes it before the maker adds it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from planner.problems import BadInput
from planner.units import Money, round_exactly

from .checks import share_of_one, whole

STAGES = ("before cloth", "cloth bought", "cut")


@dataclass(frozen=True)
class Storage:
    """A finished quilt is kept `free` days for nothing, then at `a_day`, in all `most` at most."""

    free: int
    a_day: Money
    most: Money

    def __post_init__(self) -> None:
        whole("free", self.free, 0)
        whole("a_day", self.a_day.minor, 1)
        if self.most < self.a_day:
            raise BadInput("most", "must be at least one day’s storage.")


@dataclass(frozen=True)
class Rounds:
    """Changes of the picture: so many are in the price, each more costs `each`."""

    included: int
    each: Money

    def __post_init__(self) -> None:
        whole("included", self.included, 0)
        whole("each", self.each.minor, 1)


@dataclass(frozen=True)
class Keeps:
    """What stays with the maker when an order is called off at one stage.

    A flat `fee`, a `share` of the price with tax, and `materials`: what was bought for it.
    """

    fee: Money
    share: Decimal = Decimal(0)
    materials: bool = False

    def __post_init__(self) -> None:
        share_of_one("share", self.share)
        whole("fee", self.fee.minor, 0)


@dataclass(frozen=True)
class Settlement:
    """What the price comes down by when it is called off, what stays owed, and what goes back."""

    keeps: Money
    credit: Money
    back: Money
    still_open: Money


def storage(terms: Storage, *, ready: date, on: date) -> Money:
    """Return what keeping a quilt ready since a day comes to; the free days cost nothing."""
    paid_days = max((on - ready).days - terms.free, 0)
    return min(Money(paid_days * terms.a_day.minor, terms.a_day.currency), terms.most)


def rounds_beyond(terms: Rounds, *, changes: int) -> Money:
    """Return what the changes beyond those in the price come to."""
    return Money(max(changes - terms.included, 0) * terms.each.minor, terms.each.currency)


def called_off(
    terms: Mapping[str, Keeps], *, stage: str, agreed: Money, paid: Money, materials: Money
) -> Settlement:
    """Settle an order called off at a stage: never more is kept than was agreed."""
    if stage not in STAGES:
        raise BadInput("stage", f"must be one of {', '.join(STAGES)}.")
    at = terms[stage]
    share = round_exactly(Decimal(agreed.minor) * at.share)
    bought = materials.minor if at.materials else 0
    keeps = Money(min(at.fee.minor + share + bought, agreed.minor), agreed.currency)
    nothing = Money(0, agreed.currency)
    return Settlement(
        keeps=keeps,
        credit=agreed - keeps,
        back=max(paid - keeps, nothing),
        still_open=max(keeps - paid, nothing),
    )
