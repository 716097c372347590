"""Batting in one piece: out of a package or off the roll."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.problems import BadInput, Impossible, Problem
from planner.quilt.checks import named
from planner.units import Length, Money, Size

from .cheapest import cheapest_first
from .cloth import Cloth, at_least


@dataclass(frozen=True)
class Pack:
    """Batting in a package of fixed size."""

    id: str
    size: Size
    price: Money | None

    def __post_init__(self) -> None:
        named("id", self.id)
        if not self.size.area:
            raise BadInput("size", "must have a width and a height.")


@dataclass(frozen=True)
class BattingOption:
    """One way to have the batting.

    `way` is package or roll; `size` is the sheet it comes as. Off the roll, `length` goes in and `buy`
    is bought in whole steps; a package is bought whole, and both are 0.
    """

    cloth: str
    way: str
    size: Size
    length: Length
    buy: Length
    cost: Money | None


def batting_options(
    size: Size, packs: Sequence[Pack | Cloth], *, overhang: int
) -> tuple[BattingOption, ...] | Impossible:
    """Return every package and roll that gives the batting in one piece, cheapest first.

    It is larger than the finished quilt by `overhang` on each side and may lie either way; what has
    no price comes last, the smaller package first.
    """
    at_least(0, overhang=overhang)
    needed = size.grown(2 * overhang)
    by_size = sorted(packs, key=lambda each: (_area(each), each.id))
    found = [option for each in by_size for option in _options(needed, each)]
    return cheapest_first(found) if found else _too_small(packs, needed)


def _options(needed: Size, pack: Pack | Cloth) -> Iterator[BattingOption]:
    if isinstance(pack, Cloth):
        yield from _off_the_roll(needed, pack)
    elif any(_holds(pack.size, way) for way in _both_ways(needed)):
        yield BattingOption(pack.id, "package", pack.size, 0, 0, pack.price)


def _off_the_roll(needed: Size, roll: Cloth) -> Iterator[BattingOption]:
    lengths = [way.height for way in _both_ways(needed) if way.width <= roll.usable]
    if not lengths:
        return
    on_hand = any(_holds(piece, way) for piece in roll.on_hand for way in _both_ways(needed))
    length = min(lengths)
    buy = 0 if on_hand else roll.to_buy(length)
    yield BattingOption(roll.id, "roll", Size(roll.usable, length), length, buy, roll.cost_of(buy))


def _both_ways(size: Size) -> tuple[Size, Size]:
    return size, Size(size.height, size.width)


def _holds(sheet: Size, size: Size) -> bool:
    return size.width <= sheet.width and size.height <= sheet.height


def _area(pack: Pack | Cloth) -> int:
    return pack.size.area if isinstance(pack, Pack) else 0


def _too_small(packs: Sequence[Pack | Cloth], needed: Size) -> Impossible:
    return Impossible(
        (
            Problem(
                "None of these gives the batting in one piece.",
                tuple(sorted(pack.id for pack in packs)),
                "Take a larger package or a wider roll, or join two pieces edge to edge.",
                {"width": needed.width, "height": needed.height},
            ),
        )
    )
