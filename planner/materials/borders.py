"""Border strips, ring by ring from the inside out, measured on the top as it stands by then."""

from __future__ import annotations

from collections.abc import Iterator

from planner.quilt import Border, Quilt
from planner.units import Size

from .allowances import Allowances
from .cloth import CutPiece, Item, Ribbon, pieces_of_one_size


def border_strips(quilt: Quilt, allowances: Allowances, *, center: Size | None = None) -> tuple[Item, ...]:
    """Return all borders at cut size, long strips as ribbons, corner squares as pieces.

    Butted: the sides as long as the top stands, then top and bottom over the wider top. Squares:
    all four as long as the top stands, and a square for each corner. Mitred: each strip longer by
    the widths of the two borders it meets (all three common practice). `center` is what lies inside
    them, finished, where it was measured. On a one-way print the sides are cut along the cloth.
    """
    found: list[Item] = []
    top = center or quilt.field.size
    for number, border in enumerate(quilt.borders, start=1):
        name = f"border {number}" if len(quilt.borders) > 1 else "border"
        found += _strips(name, top, border, seam=quilt.seam, allowances=allowances)
        found += _corner_squares(name, border, quilt.seam)
        top = _with(top, border)
    return tuple(found)


def _strips(name: str, top: Size, border: Border, *, seam: int, allowances: Allowances) -> Iterator[Ribbon]:
    for side, length in _lengths(top, border).items():
        width = getattr(border.widths, side)
        if width:
            yield Ribbon(
                f"{name} {side}",
                width + 2 * seam,
                length + 2 * seam,
                join=allowances.join,
                least_end=allowances.least_end,
                upright=side in ("left", "right"),
            )


def _lengths(top: Size, border: Border) -> dict[str, int]:
    """Return the finished length of each side's strip, the sides first."""
    whole = _with(top, border)
    upright = whole.height if border.corners == "mitred" else top.height
    level = top.width if border.corners == "squares" else whole.width
    return {"left": upright, "right": upright, "top": level, "bottom": level}


def _corner_squares(name: str, border: Border, seam: int) -> tuple[CutPiece, ...]:
    if border.corners != "squares":
        return ()
    widths = border.widths
    corners = [
        Size(wide, high).grown(2 * seam)
        for wide in (widths.left, widths.right)
        for high in (widths.top, widths.bottom)
    ]
    return pieces_of_one_size(f"{name} corner", corners)


def _with(top: Size, border: Border) -> Size:
    widths = border.widths
    return Size(top.width + widths.left + widths.right, top.height + widths.top + widths.bottom)
