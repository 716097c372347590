"""Another shirt in a block: the other side of the one that is there, or what has no block yet."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from orders.quilt.block_fit import strips_in
from orders.quilt.block_moves import CannotMove, block, every_block, free_id, pieces_in, with_block
from planner.quilt import Cell, Piece, Quilt


@dataclass(frozen=True)
class Panel:
    """A piece that could lie in a block: whether it fits with its print whole, and what it needs or lacks."""

    piece: Piece
    is_same_shirt: bool
    fits: bool
    words: str


def shown_instead(quilt: Quilt, id: str, piece: Piece, *, unit: str) -> Quilt:
    """Return the quilt with another piece in a block or on plain cloth; it is a new block."""
    cell = block(quilt, id)
    if cell.inside:
        raise CannotMove("Several shirts share this block. Choose one of them first.")
    if any(piece.id in pieces_in(each) for each in quilt.cells):
        raise CannotMove(f"{piece.id} has a block already. Let the two trade places.")
    needs = strips_in(piece, cell.at.size, turn=0, unit=unit)
    if needs.frame is None:
        raise CannotMove(f"{piece.id} does not fit there. {needs.words}")
    return with_block(quilt, id, Cell(free_id(quilt), cell.at, piece=piece.id, frame=needs.frame))


def others_for(quilt: Quilt, cell: Cell, pieces: Iterable[Piece], *, unit: str) -> tuple[Panel, ...]:
    """Return the pieces without a block that could lie in one: of the same shirt first, then what fits."""
    known = {piece.id: piece for piece in pieces}
    used = {name for each in quilt.cells for name in pieces_in(each)}
    here = known.get(cell.piece or "")
    found = [
        _panel(piece, cell, unit, is_same_shirt=here is not None and piece.garment == here.garment)
        for id, piece in known.items()
        if id not in used
    ]
    return tuple(sorted(found, key=lambda each: (not each.is_same_shirt, not each.fits, each.piece.id)))


def plain_block_for(quilt: Quilt, piece: Piece, *, unit: str) -> Cell | None:
    """Return the plain block that a piece fits best: without strips where there is one, and the smallest."""
    fitting = [
        (bool(needs.frame), cell.at.size.area, cell.id, cell)
        for cell in every_block(quilt)
        if cell.is_filler and (needs := strips_in(piece, cell.at.size, turn=0, unit=unit)).frame is not None
    ]
    return min(fitting, key=lambda each: each[:3])[3] if fitting else None


def _panel(piece: Piece, cell: Cell, unit: str, *, is_same_shirt: bool) -> Panel:
    needs = strips_in(piece, cell.at.size, turn=0, unit=unit)
    if needs.frame is None:
        return Panel(piece, is_same_shirt, False, f"Does not fit here. {needs.words}")
    return Panel(piece, is_same_shirt, True, "Fits with strips." if needs.frame else "Fits.")
