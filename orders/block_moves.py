"""Moves of single blocks in a quilt: what it is after them. A block keeps its id; nothing is written."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from planner.layout import fit
from planner.quilt import Cell, Piece, Quilt
from planner.units import Rect, Sides


class CannotMove(Exception):
    """A block cannot go where it was to go; the message says why and what would help."""


def traded(quilt: Quilt, first: str, second: str, *, pieces: Mapping[str, Piece], unit: str) -> Quilt:
    """Return the quilt with two blocks in each other's place, with strips where a place is larger."""
    a, b = block(quilt, first), block(quilt, second)
    if a.id == b.id:
        raise CannotMove("A block cannot trade places with itself. Choose another one.")
    moved = {a.id: _moved(a, b.at, pieces, unit), b.id: _moved(b, a.at, pieces, unit)}
    return replace(quilt, cells=tuple(moved.get(cell.id, cell) for cell in quilt.cells))


def turned(quilt: Quilt, id: str) -> Quilt:
    """Return the quilt with a block turned half round, which changes no size."""
    cell = block(quilt, id)
    if cell.is_filler or cell.inside:
        raise CannotMove("A block without a shirt looks the same turned round.")
    round_ = Sides(cell.frame.bottom, cell.frame.left, cell.frame.top, cell.frame.right)
    return _with(quilt, replace(cell, turn=(cell.turn + 180) % 360, frame=round_))


def emptied(quilt: Quilt, id: str) -> Quilt:
    """Return the quilt with plain cloth where a block was; the plain block is a new one."""
    cell = block(quilt, id)
    if cell.piece is None:
        raise CannotMove("There is no shirt in this block to leave out.")
    plain = Cell(free_id(quilt), cell.at)
    return replace(quilt, cells=tuple(plain if each.id == id else each for each in quilt.cells))


def with_kept_ids(quilt: Quilt, before: Quilt | None) -> Quilt:
    """Return a layout in which a block that holds the piece it held before keeps its id."""
    if before is None:
        return quilt
    kept = {cell.piece: cell.id for cell in before.cells if cell.piece}
    taken = {cell.id for cell in before.cells}
    fresh = (id for id in _numbers() if id not in taken)
    named = (replace(each, id=kept.get(each.piece or "") or next(fresh)) for each in quilt.cells)
    return replace(quilt, cells=tuple(named))


def is_same_layout(a: Quilt, b: Quilt) -> bool:
    """Say whether two quilts are sewn alike, whatever their blocks are called and their cloth is."""

    def shape(quilt: Quilt) -> tuple[object, ...]:
        cells = frozenset((each.at, each.piece, each.frame, each.turn, each.inside) for each in quilt.cells)
        return quilt.size, cells, quilt.sashing, quilt.borders

    return shape(a) == shape(b)


def block(quilt: Quilt, id: str) -> Cell:
    """Return the block of that id."""
    found = next((cell for cell in quilt.cells if cell.id == id), None)
    if found is None:
        raise CannotMove("This block is no longer in the layout. Look at the picture again.")
    return found


def free_id(quilt: Quilt) -> str:
    taken = {cell.id for cell in quilt.cells}
    return next(id for id in _numbers() if id not in taken)


def _numbers() -> Iterable[str]:
    return (f"{number:02d}" for number in range(1, 10_000))


def _with(quilt: Quilt, changed: Cell) -> Quilt:
    return replace(quilt, cells=tuple(changed if each.id == changed.id else each for each in quilt.cells))


def _moved(cell: Cell, at: Rect, pieces: Mapping[str, Piece], unit: str) -> Cell:
    if cell.at.size == at.size or cell.is_filler:
        return replace(cell, at=at)
    piece = pieces.get(cell.piece or "")
    if piece is None or piece.cut is not None:
        raise CannotMove(f"{cell.piece or cell.id} cannot change its size any more. Choose a block as large.")
    answer = fit(piece, at.size, margin=0, unit=unit)
    strips = next((each.frame for each in answer.remedies if each.kind == "frame"), None)
    if not answer.ok and strips is None:
        helps = answer.remedies[0].words if answer.remedies else "Choose a larger place."
        raise CannotMove(f"{piece.id} does not fit there. {helps}")
    return replace(cell, at=at, frame=Sides() if answer.ok else strips or Sides())
