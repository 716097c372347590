"""Strips round a shirt in its block, and a border round the quilt: what it is after them."""

from __future__ import annotations

from dataclasses import replace

from orders.quilt.block_fit import as_worn, strips_in
from orders.quilt.block_moves import CannotMove, block, shifted, with_block
from planner.layout.window import keep
from planner.problems import BadInput
from planner.quilt import Border, Cell, Piece, Quilt
from planner.units import INCH, MM, Sides, Size, show_length

LEAST_STRIP = INCH // 2  # narrower ones are hard to sew straight (common practice)
FINE = {"in": INCH // 8, "cm": MM}


def framed(quilt: Quilt, id: str, frame: Sides, *, piece: Piece, unit: str) -> Quilt:
    """Return the quilt with these strips round the shirt of a block, inside the block as it is.

    The print stays whole, and the shirt has to have the cloth for what the strips leave of the block.
    """
    cell = _may_have_strips(block(quilt, id), piece)
    try:
        after = replace(cell, frame=frame)
    except BadInput:
        raise CannotMove(_too_wide(cell, frame, piece, unit)) from None
    window = keep(piece, as_worn(after.room.size, after.turn), seam=quilt.seam)
    if window is None or window.frame:
        needs = strips_in(piece, cell.at.size, turn=cell.turn, unit=unit)
        raise CannotMove(f"{piece.id} has not the cloth for so much of its block. {needs.words}".strip())
    if window.loses_print(piece):
        raise CannotMove(_too_wide(cell, frame, piece, unit))
    return with_block(quilt, id, after)


def bordered(quilt: Quilt, *, across: int, down: int) -> Quilt:
    """Return the quilt with one border, so wide at both sides and at top and bottom; 0 and 0 is none."""
    before, field = quilt.trims, quilt.field
    outer = before.left - sum(each.widths.left for each in quilt.borders)
    right, lower = across + outer - before.left, down + outer - before.top
    return replace(
        quilt,
        size=Size(field.width + 2 * across, field.height + 2 * down),
        cells=tuple(shifted(cell, right, lower) for cell in quilt.cells),
        borders=(Border(Sides(down, across, down, across)),) if across or down else (),
    )


def border_of(quilt: Quilt) -> tuple[int, int]:
    """Return how wide the border is at the sides, and at top and bottom, in ticks."""
    rings = [each.widths for each in quilt.borders]
    return sum(each.left for each in rings), sum(each.top for each in rings)


def _may_have_strips(cell: Cell, piece: Piece) -> Cell:
    if cell.piece is None:
        raise CannotMove("Strips go round a shirt. Choose a block with one shirt in it.")
    if piece.cut is not None:
        raise CannotMove(f"{piece.id} is cut already, so its strips stay as they are.")
    return cell


def _too_wide(cell: Cell, frame: Sides, piece: Piece, unit: str) -> str:
    """Say how wide strips on these sides may be so that the print stays whole."""
    print_size = as_worn(piece.print_size, cell.turn)
    beside = [side for side in (frame.left, frame.right) if side]
    above = [side for side in (frame.top, frame.bottom) if side]
    rooms = [(cell.at.width - print_size.width) // len(beside)] if beside else []
    rooms += [(cell.at.height - print_size.height) // len(above)] if above else []
    most = min(rooms, default=0) // FINE[unit] * FINE[unit]
    if most < LEAST_STRIP:
        return (
            f"The print of {piece.id} fills its block: there is no room for strips. Give it a larger block."
        )
    room = show_length(most, unit=unit, rounding="nearest").removeprefix("about ")
    return f"Such strips would cover part of the print of {piece.id}. There is room for {room} at most."
