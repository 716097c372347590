"""Money that moves: each leg takes an amount out of one account into another, so all accounts sum to zero."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from planner.problems import BadInput
from planner.units import Money

from .checks import whole
from .shares import split

OWED, SALES, TAX = "owed", "sales", "tax"
CASH, BANK, CERTIFICATES, TIPS = "cash", "bank", "certificates", "tips"
CREDITS, TAX_CREDIT, WRITTEN_OFF, BEFORE = "credits", "tax credit", "written off", "before"
ACCOUNTS = (
    OWED, SALES, TAX, CASH, BANK, CERTIFICATES, TIPS, CREDITS, TAX_CREDIT, WRITTEN_OFF, BEFORE,
)  # fmt: skip


@dataclass(frozen=True)
class Leg:
    """An amount in minor units out of one account into another, always more than nothing."""

    out_of: str
    into: str
    minor: int

    def __post_init__(self) -> None:
        whole("minor", self.minor, 1)
        for name in ("out_of", "into"):
            if getattr(self, name) not in ACCOUNTS:
                raise BadInput(name, f"must be one of {', '.join(ACCOUNTS)}.")
        if self.out_of == self.into:
            raise BadInput("into", "must be another account than the one it comes out of.")

    def turned(self) -> Leg:
        """Return the leg the other way round."""
        return Leg(self.into, self.out_of, self.minor)


def balances(legs: Iterable[Leg]) -> Counter[str]:
    """Return what lies in each account; together they are always 0."""
    lies: Counter[str] = Counter()
    for leg in legs:
        lies[leg.into] += leg.minor
        lies[leg.out_of] -= leg.minor
    return lies


def charging(net: int, tax: int) -> tuple[Leg, ...]:
    """Return the legs of what a customer owes: the price, and its tax apart."""
    return _legs((SALES, OWED, net), (TAX, OWED, tax))


def paying(minor: int, into: str, *, open_: int) -> tuple[Leg, ...]:
    """Return the legs of a payment; more than is open is refused."""
    if minor > open_:
        raise BadInput("minor", "is more than is open.")
    return (Leg(OWED, into, minor),)


def giving_back(minor: int, paid: Leg, *, back: int) -> tuple[Leg, ...]:
    """Return the legs that give money back to who paid it, out of where it went.

    `back` is what went back of it before; what was paid is never exceeded.
    """
    if minor > paid.minor - back:
        raise BadInput("minor", "is more than is left of that payment.")
    return (Leg(paid.into, OWED, minor),)


def crediting(minor: int, *, net: int, tax: int, currency: str) -> tuple[Leg, ...]:
    """Return the legs of a credit given after the price was agreed.

    Its tax is the share that the agreed `net` and `tax` have, by largest remainder. Whether tax
    goes down with a credit differs by place: ask the local tax authority or an accountant.
    """
    parts = split(Money(minor, currency), (net, tax) if net + tax else (1, 0))
    return _legs((OWED, CREDITS, parts[0].minor), (OWED, TAX_CREDIT, parts[1].minor))


def turned(legs: Sequence[Leg]) -> tuple[Leg, ...]:
    """Return the legs that undo others."""
    return tuple(leg.turned() for leg in legs)


def _legs(*moves: tuple[str, str, int]) -> tuple[Leg, ...]:
    return tuple(Leg(*move) for move in moves if move[2])
