"""Where no grid fits: why, and how many blocks would."""

from __future__ import annotations

from collections.abc import Set

from planner.problems import Problem
from planner.units import Size, show_length

from .blocks import grid_size
from .options import Wish

MOST_ACROSS = 50


def nearest_counts(wanted: int, grids: Set[int], fillers: int) -> tuple[int, ...]:
    """Return up to four numbers of blocks nearest to `wanted` that some grid of this size takes."""
    counts = {grid - spare for grid in grids for spare in range(fillers + 1) if grid > spare}
    below = sorted((count for count in counts if count < wanted), reverse=True)[:2]
    above = sorted(count for count in counts if count > wanted)[:2]
    return tuple(sorted([*below, *above]))


def nearest_size(wish: Wish, wanted: int, fillers: int) -> Size | None:
    """Return the size nearest to the wish of a grid that so many blocks fill, with few left plain."""
    shapes = [(columns, -(-wanted // columns)) for columns in range(1, min(wanted, MOST_ACROSS) + 1)]
    found = [
        grid_size(columns, rows, block, sashing=sashing, borders=(border,) if border else ())
        for columns, rows in shapes
        if columns * rows - wanted <= fillers
        for block in wish.blocks
        for sashing in wish.sashings
        for border in wish.borders
    ]
    return min(found, key=lambda size: (_error(size, wish.target), size), default=None)


def cut_larger(piece: str) -> Problem:
    """Say that a piece has no room in any block that is offered."""
    return Problem(
        f"{piece} is cut larger than any of these blocks.",
        (piece,),
        "Offer a block as large as it is cut, or leave it out.",
    )


def _error(size: Size, target: Size) -> int:
    return abs(size.width - target.width) + abs(size.height - target.height)


def why_none(wish: Wish, wanted: int, counts: tuple[int, ...], other: Size | None, *, unit: str) -> Problem:
    """Say that no grid fits and what would: other numbers of blocks, or an `other` size."""
    size = _words(wish.target, unit)
    figures = {"blocks": wanted}
    figures |= {"width": other.width, "height": other.height} if other else {}
    make = f"make it {_words(other, unit)}" if other else "change the size"
    if not counts:
        what = f"No number of these blocks comes near {size}."
        return Problem(what, change=f"Offer another block size, a border, or {make}.", figures=figures)
    numbers = " or ".join(str(count) for count in counts)
    return Problem(
        f"{wanted} blocks do not fill {size} in even rows.",
        change=f"It works with {numbers} blocks: keep second sides, leave some out, or {make}.",
        figures=figures,
    )


def _words(size: Size, unit: str) -> str:
    across = show_length(size.width, unit=unit, rounding="nearest").removesuffix(f" {unit}")
    return f"{across} × {show_length(size.height, unit=unit, rounding='nearest')}"
