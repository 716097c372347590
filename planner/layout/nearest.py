"""Where no grid fits: why, and how many blocks would."""

from __future__ import annotations

from collections.abc import Set

from planner.problems import Problem
from planner.units import Size, show_length

from .options import Wish


def nearest_counts(wanted: int, grids: Set[int], fillers: int) -> tuple[int, ...]:
    """Return up to four numbers of blocks nearest to `wanted` that some grid of this size takes."""
    counts = {grid - spare for grid in grids for spare in range(fillers + 1) if grid > spare}
    below = sorted((count for count in counts if count < wanted), reverse=True)[:2]
    above = sorted(count for count in counts if count > wanted)[:2]
    return tuple(sorted([*below, *above]))


def why_none(wish: Wish, wanted: int, counts: tuple[int, ...], *, unit: str) -> Problem:
    """Say that no grid fits and what would."""
    size = _words(wish.target, unit)
    if not counts:
        return Problem(
            f"No number of these blocks comes near {size}.",
            change="Offer another block size, a border, or more room in the size.",
            figures={"blocks": wanted},
        )
    numbers = " or ".join(str(count) for count in counts)
    return Problem(
        f"{wanted} blocks do not fill {size} in even rows.",
        change=f"It works with {numbers} blocks: keep second sides, leave some out, or change the size.",
        figures={"blocks": wanted},
    )


def _words(size: Size, unit: str) -> str:
    across = show_length(size.width, unit=unit, rounding="nearest").removesuffix(f" {unit}")
    return f"{across} × {show_length(size.height, unit=unit, rounding='nearest')}"
