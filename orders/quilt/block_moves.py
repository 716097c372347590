"""Moves of single blocks in a quilt: what it is after them. A block keeps its id; nothing is written."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from orders.quilt.block_fit import strips_in
from planner.layout.remedies import listed
from planner.quilt import Cell, Piece, Quilt
from planner.units import Rect, Sides


class CannotMove(Exception):
    """A block cannot go where it was to go; the message says why and what would help."""


def traded(quilt: Quilt, first: str, second: str, *, pieces: Mapping[str, Piece], unit: str) -> Quilt:
    """Return the quilt with two blocks in each other's place, with strips where a place is larger."""
    a, b = _alone(quilt, first), _alone(quilt, second)
    if a.id == b.id:
        raise CannotMove("A block cannot trade places with itself. Choose another one.")
    moved = {a.id: _moved(a, b.at, pieces, unit), b.id: _moved(b, a.at, pieces, unit)}
    return replace(quilt, cells=tuple(moved.get(cell.id, cell) for cell in quilt.cells))


def turned(quilt: Quilt, id: str) -> Quilt:
    """Return the quilt with a block turned half round, which changes no size."""
    cell = block(quilt, id)
    if cell.is_filler:
        raise CannotMove("A block without a shirt looks the same turned round.")
    return with_block(quilt, id, _half_round(cell, cell.at))


def emptied(quilt: Quilt, id: str) -> Quilt:
    """Return the quilt with plain cloth where a block was; the plain block is a new one."""
    cell = block(quilt, id)
    if cell.is_filler:
        raise CannotMove("There is no shirt in this block to leave out.")
    if cell.inside:
        raise CannotMove("Several shirts share this block. Choose the one that is left out.")
    after = with_block(quilt, id, Cell(free_id(quilt), cell.at))
    return replace(after, cells=tuple(_plain_if_empty(each, quilt) for each in after.cells))


def with_kept_ids(quilt: Quilt, before: Quilt | None) -> Quilt:
    """Return a layout in which a block that holds the piece it held before keeps its id."""
    if before is None:
        return quilt
    kept = {pieces_in(cell): cell.id for cell in before.cells if pieces_in(cell)}
    taken = {each.id for cell in before.cells for each in (cell, *cell.inside)}
    fresh = (id for id in _numbers() if id not in taken)
    named = (_renamed(each, kept.get(pieces_in(each)) or next(fresh)) for each in quilt.cells)
    return replace(quilt, cells=tuple(named))


def is_same_layout(a: Quilt, b: Quilt) -> bool:
    """Say whether two quilts are sewn alike, whatever their blocks are called and their cloth is."""

    def block_of(cell: Cell) -> tuple[object, ...]:
        return cell.at, cell.piece, cell.frame, cell.turn, frozenset(block_of(each) for each in cell.inside)

    def shape(quilt: Quilt) -> tuple[object, ...]:
        return quilt.size, frozenset(map(block_of, quilt.cells)), quilt.sashing, quilt.borders

    return shape(a) == shape(b)


def block(quilt: Quilt, id: str) -> Cell:
    """Return the block of that id, or the part of a block that several shirts share."""
    found = next((cell for cell in every_block(quilt) if cell.id == id), None)
    if found is None:
        raise CannotMove("This block is no longer in the layout. Look at the picture again.")
    return found


def every_block(quilt: Quilt) -> Iterator[Cell]:
    """Yield every block, and after each one that several shirts share its parts."""
    for cell in quilt.cells:
        yield cell
        yield from cell.inside


def whole_of(quilt: Quilt, id: str) -> Cell | None:
    """Return the block that a part of that id lies in; None for a block of its own."""
    return next((cell for cell in quilt.cells if any(each.id == id for each in cell.inside)), None)


def called(cell: Cell) -> str:
    """Return what a block is called in a sentence: its piece, those that share it, or plain."""
    if cell.inside:
        return f"The block of {listed(pieces_in(cell))}" if pieces_in(cell) else "A plain block"
    return cell.piece or "A plain block"


def pieces_in(cell: Cell) -> tuple[str, ...]:
    """Return the pieces of a block by name."""
    return tuple(sorted(each.piece for each in cell.with_pieces() if each.piece))


def with_block(quilt: Quilt, id: str, changed: Cell) -> Quilt:
    """Return the quilt with another block in the place of one, or of a part of one."""

    def after(cell: Cell) -> Cell:
        if cell.id == id:
            return changed
        if any(each.id == id for each in cell.inside):
            return replace(cell, inside=tuple(map(after, cell.inside)))
        return cell

    return replace(quilt, cells=tuple(map(after, quilt.cells)))


def shifted(cell: Cell, right: int, down: int) -> Cell:
    """Return a block so many ticks further right and down, with all that lies in it."""
    at = Rect(cell.at.x + right, cell.at.y + down, cell.at.width, cell.at.height)
    return replace(cell, at=at, inside=tuple(shifted(each, right, down) for each in cell.inside))


def free_id(quilt: Quilt) -> str:
    """Return the first number that no block has."""
    taken = {cell.id for cell in every_block(quilt)}
    return next(id for id in _numbers() if id not in taken)


def _numbers() -> Iterable[str]:
    return (f"{number:02d}" for number in range(1, 10_000))


def _alone(quilt: Quilt, id: str) -> Cell:
    cell = block(quilt, id)
    if whole_of(quilt, id) is not None:
        raise CannotMove(f"{called(cell)} shares its block. Let the whole block trade places.")
    return cell


def _moved(cell: Cell, at: Rect, pieces: Mapping[str, Piece], unit: str) -> Cell:
    if cell.at.size == at.size:
        return shifted(cell, at.x - cell.at.x, at.y - cell.at.y)
    if cell.is_filler:
        return replace(cell, at=at)
    piece = pieces.get(cell.piece or "")
    if piece is None:
        raise CannotMove(f"{called(cell)} cannot change its size. Choose a block as large.")
    needs = strips_in(piece, at.size, turn=cell.turn, unit=unit)
    if needs.frame is None:
        raise CannotMove(f"{piece.id} does not fit there. {needs.words}")
    return replace(cell, at=at, frame=needs.frame)


def _half_round(cell: Cell, within: Rect) -> Cell:
    """Turn a block half round about the middle of the block it lies in."""
    at = Rect(
        within.x + within.right - cell.at.right,
        within.y + within.bottom - cell.at.bottom,
        cell.at.width,
        cell.at.height,
    )
    round_ = Sides(cell.frame.bottom, cell.frame.left, cell.frame.top, cell.frame.right)
    turn = (cell.turn + 180) % 360 if cell.piece else cell.turn
    inside = tuple(_half_round(each, within) for each in cell.inside)
    return replace(cell, at=at, frame=round_, turn=turn, inside=inside)


def _plain_if_empty(cell: Cell, before: Quilt) -> Cell:
    """A block whose last shirt was left out is plain cloth in one piece."""
    if cell.inside and not pieces_in(cell):
        return Cell(free_id(before), cell.at)
    return cell


def _renamed(cell: Cell, id: str) -> Cell:
    inside = (replace(each, id=f"{id}{chr(97 + number)}") for number, each in enumerate(cell.inside))
    return replace(cell, id=id, inside=tuple(inside))
