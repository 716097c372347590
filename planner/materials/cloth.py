"""What is to be cut, what it is cut from, and the plan of the cuts.

`across` runs along a cloth's width, `along` its length; a piece that keeps its grain lies that way.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from planner.care.interfacing import INTERFACINGS
from planner.problems import BadInput
from planner.quilt.checks import named
from planner.units import INCH, Length, Money, Rate, Size

PRICED_PER = ("yd", "m")
MOST_SHRINKAGE = 250


def at_least(least: int, **values: int) -> None:
    """Refuse a value that is no whole number or lies below `least`."""
    for name, value in values.items():
        if not isinstance(value, int) or isinstance(value, bool):
            raise BadInput(name, "must be a whole number.")
        if value < least:
            raise BadInput(name, f"must be at least {least}.")


@dataclass(frozen=True)
class CutPiece:
    """`count` equal pieces at cut size; for a strip `across` is its long side.

    `upright` of them stand up the quilt: from a one-way print those are cut with the long side along it.
    """

    name: str
    across: Length
    along: Length
    count: int
    keep_grain: bool = True
    upright: int = 0

    def __post_init__(self) -> None:
        named("name", self.name)
        at_least(1, across=self.across, along=self.along, count=self.count)
        at_least(0, upright=self.upright)
        if self.upright > self.count:
            raise BadInput("upright", "must not be more than count.")

    def some(self, count: int) -> CutPiece:
        """Return so many of the pieces, upright ones first."""
        return replace(self, count=count, upright=min(count, self.upright))

    def all_but(self, count: int) -> CutPiece:
        """Return the pieces that `some` of that count leaves."""
        return replace(self, count=self.count - count, upright=max(0, self.upright - count))


@dataclass(frozen=True)
class Ribbon:
    """A continuous strip `width` high, sewn together from strip ends until it is `length` long.

    `join` is what each join costs: None for a 45° join, which costs one width (common practice),
    0 where joins are not counted, as printed charts do. No end shorter than `least_end` is used. An
    `upright` one stands up the quilt: on a one-way print it is cut along the cloth, in one piece.
    """

    name: str
    width: Length
    length: Length
    join: Length | None = None
    least_end: Length = 6 * INCH
    upright: bool = False

    def __post_init__(self) -> None:
        named("name", self.name)
        at_least(1, width=self.width, length=self.length)
        at_least(0, least_end=self.least_end, join=self.join or 0)

    @property
    def loss(self) -> int:
        """Length lost at each join, in ticks."""
        return self.width if self.join is None else self.join


Item = CutPiece | Ribbon


@dataclass(frozen=True)
class Cloth:
    """A cloth of the shelf or the store, sold in whole steps of its length.

    `usable` is the width between the selvages that may be cut, no more than `width` where that is known
    (0: not known); `price` is per yd or m, None when
    no more can be bought. `on_hand` pieces have the cloth's width as `width`, its length as `height`.
    `fuse` is the interfacing that goes behind it where it is cut for the top: a stretchy or thin
    garment that serves as cloth has one.
    Of what is bought `squaring` is cut off to square the end, after `shrinkage` thousandths are lost in
    the wash; both are the shop's to say (common practice: 2 in, 30), what is on hand is measured as it is.
    """

    id: str
    kind: str
    usable: Length
    step: Length
    price: Rate | None
    on_hand: tuple[Size, ...] = ()
    directional: bool = False
    lot: str = ""
    fuse: str = "none"
    squaring: Length = 0
    shrinkage: int = 0
    width: Length = 0

    def __post_init__(self) -> None:
        named("id", self.id)
        at_least(1, usable=self.usable, step=self.step)
        at_least(0, squaring=self.squaring, shrinkage=self.shrinkage, width=self.width)
        if self.width and self.usable > self.width:
            raise BadInput("usable", "must not be more than the width of the cloth.")
        if self.shrinkage > MOST_SHRINKAGE:
            raise BadInput("shrinkage", f"must be at most {MOST_SHRINKAGE} thousandths.")
        if self.fuse not in ("none", *INTERFACINGS):
            raise BadInput("fuse", f"must be none or one of {', '.join(INTERFACINGS)}.")
        if self.price is not None and self.price.per not in PRICED_PER:
            raise BadInput("price.per", f"cloth is priced per {' or '.join(PRICED_PER)}.")
        if self.price is not None and self.price.minor < 0:
            raise BadInput("price.minor", "must not be negative.")
        for number, piece in enumerate(self.on_hand):
            if not piece.area:
                raise BadInput(f"on_hand[{number}]", "must have a width and a length.")

    @property
    def widest(self) -> int:
        """The greatest width to be had: the usable one, or that of the widest piece if none is sold."""
        on_hand = [min(piece.width, self.usable) for piece in self.on_hand]
        return self.usable if self.price else max(on_hand, default=self.usable)

    def in_steps(self, length: int) -> int:
        """Return the length rounded up to whole steps."""
        return -(-length // self.step) * self.step

    def to_buy(self, length: int) -> int:
        """Return what must be bought to cut a length from it, in whole steps."""
        return self.in_steps(-(-(length + self.squaring) * 1000 // (1000 - self.shrinkage))) if length else 0

    def gives(self, bought: int) -> int:
        """Return the length that can be cut from a purchase, once washed and squared."""
        return max(0, bought * (1000 - self.shrinkage) // 1000 - self.squaring)

    def cost_of(self, length: int) -> Money | None:
        """Return the price of a length to be bought; None without a price."""
        return self.price.on(length) if self.price else None


@dataclass(frozen=True)
class Column:
    """`count` pieces of `along`, stacked in a column `across` wide within a strip.

    For a ribbon a column is one strip end: `across` is the length taken, `along` its width.
    """

    item: str
    across: Length
    along: Length
    count: int

    def __post_init__(self) -> None:
        named("item", self.item)
        at_least(1, across=self.across, along=self.along, count=self.count)


@dataclass(frozen=True)
class Strip:
    """A strip over the cloth's width, `height` of its length, beginning `at`; columns from the left.

    `source` is an index into `on_hand`, None for what is newly bought. In a lengthwise strip ribbon
    ends run along the cloth's length: `along` is the length taken, `across` the ribbon's width.
    """

    source: int | None
    at: Length
    height: Length
    columns: tuple[Column, ...]
    lengthwise: bool = False

    def __post_init__(self) -> None:
        at_least(0, at=self.at, source=self.source or 0)
        at_least(1, height=self.height)


@dataclass(frozen=True)
class CutPlan:
    """How the pieces come out of the cloth.

    `used` is the length consumed from all sources, `buy` what is bought, in whole steps, and `bound`
    the least that any plan within `scope` buys. `leftovers` are worth keeping; an on-hand piece
    that was not touched is not among them.
    """

    strips: tuple[Strip, ...]
    used: Length
    buy: Length
    cost: Money | None
    bound: Length
    proved: bool
    scope: str
    leftovers: tuple[Size, ...] = ()

    def __post_init__(self) -> None:
        at_least(0, used=self.used, buy=self.buy, bound=self.bound)


@dataclass(frozen=True)
class Buy:
    """A line of the shopping list: how much of a cloth, by which day, for which orders."""

    cloth: str
    length: Length
    cost: Money | None
    by: date
    orders: tuple[str, ...]


def pieces_of_one_size(
    name: str, sizes: Iterable[Size], *, upright: Iterable[Size] = (), keep_grain: bool = True
) -> tuple[CutPiece, ...]:
    """Gather equal cut sizes (across, along) into pieces, the longest first, numbered when they differ."""
    standing = Counter(upright)
    counted = sorted((Counter(sizes) + standing).items(), reverse=True)
    return tuple(
        CutPiece(
            f"{name} {number}" if len(counted) > 1 else name,
            size.width,
            size.height,
            count,
            keep_grain,
            standing[size] if size.width != size.height else 0,
        )
        for number, (size, count) in enumerate(counted, start=1)
    )
