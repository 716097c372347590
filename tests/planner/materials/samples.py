"""Cloth, quilts and lengths for the tests of materials, written the way a maker writes them."""

from __future__ import annotations

from planner.layout.blocks import grid_quilt
from planner.materials import Cloth, CutPiece, Ribbon
from planner.problems import Limit
from planner.quilt import Binding, Border, Quilt, Sashing
from planner.units import INCH, YARD, Rate, Sides, Size, parse_length

ONCE = Limit(effort=4)
EIGHTH, QUARTER = YARD // 8, YARD // 4
PER_YARD = Rate(1200, "USD", "yd")


def inch(text: str | int) -> int:
    """A length in inches, such as `12 1/2`."""
    return parse_length(str(text), unit="in")


def yards(text: str | int) -> int:
    """A length in yards, such as `1 1/8`."""
    return parse_length(str(text), unit="yd")


def size(width: str | int, height: str | int) -> Size:
    return Size(inch(width), inch(height))


def cotton(usable: str | int, *, step: int = EIGHTH, id: str = "cotton", price: Rate = PER_YARD) -> Cloth:
    """Cloth that can be bought."""
    return Cloth(id, "cotton", inch(usable), step, price)


def remnant(width: str | int, length: str | int) -> Cloth:
    """One piece on hand and no more to be had."""
    return Cloth("remnant", "cotton", inch(width), EIGHTH, None, on_hand=(size(width, length),))


def squares(side: str, count: int) -> CutPiece:
    return CutPiece("square", inch(side), inch(side), count)


def ribbon(width: str, length: str | int, *, name: str = "ribbon", join: int | None = None) -> Ribbon:
    return Ribbon(name, inch(width), inch(length), join=join)


def grid(columns: int, rows: int, block: str | int, *, sashing=None, borders=(), binding=None) -> Quilt:
    """A quilt of plain square blocks."""
    return grid_quilt(
        columns, rows, size(block, block), sashing=sashing, borders=tuple(borders), binding=binding
    )


def sash(width: str | int, *, outer: bool = True, cornerstones: bool = True) -> Sashing:
    return Sashing(inch(width), outer, cornerstones)


def border(width: str | int, corners: str = "butted") -> Border:
    return Border(Sides.all_round(inch(width)), corners)


BOUND = Binding(cut=5 * INCH // 2, extra=12 * INCH)
