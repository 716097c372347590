"""Why there is no mixed layout, what would help, and what was looked at, in words."""

from __future__ import annotations

from planner.problems import Impossible, Problem
from planner.units import Size, show_length

from ..options import Wish
from .demands import Wanted
from .places import Module
from .sheets import Sheet, sheets_near

LARGER = "Leave it out, or make the quilt larger."
OTHER_PANEL = "Leave it out, or take another panel of its shirt."


def nothing_to_lay_out() -> Impossible:
    """Say that the bag holds nothing that is wanted."""
    return Impossible(
        (Problem("There is no piece to lay out.", change="Log at least one shirt and its print."),)
    )


def ended_early(blocks: int) -> Problem:
    """Say that the search did not settle it, and up to how many blocks in a band there surely is none."""
    none = f"There is none whose parts hold up to {blocks} blocks. " if blocks else ""
    return Problem(f"{none}The search ended before it knew.", change="Let it search longer.")


def off_the_module(wish: Wish, step: int, *, unit: str) -> Impossible:
    """Say that no whole number of modules comes within the tolerance, and which sizes would."""
    near = {sheet.size: None for sheet in sheets_near(wish, step, more=step)}
    sizes = " or ".join(words_of(size, unit) for size in list(near)[:2])
    return Impossible(
        (
            Problem(
                f"Steps of {short(step, unit)} {unit} do not come to {words_of(wish.target, unit)}.",
                ("module",),
                f"They make {sizes}; or take another step." if sizes else "Take a smaller step.",
                {"step": step},
            ),
        )
    )


def piece_in_the_way(wanted: Wanted, wish: Wish, sheets: tuple[Sheet, ...], unit: str) -> Impossible | None:
    """Name the pieces that must be in and have no place, or none that the quilt is large enough for."""
    across = max(sheet.across for sheet in sheets)
    down = max(sheet.down for sheet in sheets)
    large = [
        piece
        for demand in wanted.demands
        if demand.required and not any(a <= across and d <= down for a, d in demand.costs)
        for piece in demand.pieces
    ]
    bare = [piece.id for piece in wanted.homeless if piece.wanted == "must"]
    size = words_of(wish.target, unit)
    problems = (
        *(Problem(f"{id} needs a block that {size} does not hold.", (id,), LARGER) for id in sorted(large)),
        *(Problem(f"{id} has not the cloth for any block.", (id,), OTHER_PANEL) for id in bare),
    )
    return Impossible(problems) if problems else None


def scope_of(wish: Wish, module: Module, blocks: int, *, unit: str) -> str:
    """Say what was looked at."""
    within = f"within {short(wish.tolerance, unit)} {unit} of " if wish.tolerance else ""
    return (
        f"all layouts in columns or in rows whose parts hold up to {blocks} blocks, with sides in steps of "
        f"{short(module.step, unit)} {unit}, {within}{words_of(wish.target, unit)} before the first wash"
    )


def words_of(size: Size, unit: str) -> str:
    """Return a size as it is said."""
    return f"{short(size.width, unit)} × {short(size.height, unit)} {unit}"


def short(length: int, unit: str) -> str:
    """Return a length without its unit."""
    return show_length(length, unit=unit, rounding="nearest").removesuffix(f" {unit}")
