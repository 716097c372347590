"""What is cut from each shirt, block by block."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planner.care import needs
from planner.problems import BadInput
from planner.quilt import Bag, Cell, Piece, Quilt
from planner.units import Sides, Size


@dataclass(frozen=True)
class ShirtCut:
    """One shirt panel: the rough cut, the trimmed cut, its frame strips and what is fused behind it.

    Sizes are as the shirt lies, upright; `frame` is finished, as the block stands in the quilt.
    """

    cell: str
    piece: str
    rough: Size
    cut: Size
    frame: Sides
    interfacing: str
    layers: int = 1


def shirt_cuts(quilt: Quilt, bag: Bag, *, rough: int) -> tuple[ShirtCut, ...]:
    """Return the cuts in the order of the cells, composites opened up.

    Rough cut = finished place inside the frame + `rough`; trimmed cut = finished + two seams. A
    piece that is already cut keeps its size for both. Whether the shirt gives that much cloth is
    for the fit of the layout to say.
    """
    if rough < 2 * quilt.seam:
        raise BadInput("rough", "the first cut must leave at least the two seams.")
    return tuple(_cuts(quilt, bag, rough))


def _cuts(quilt: Quilt, bag: Bag, rough: int) -> Iterator[ShirtCut]:
    pieces = {piece.id: piece for piece in bag.pieces}
    for cell in quilt.with_pieces():
        piece = pieces.get(cell.piece or "")
        if piece is None:
            raise BadInput("quilt.cells", f"block “{cell.id}” holds “{cell.piece}”, which is not in the bag.")
        lying = _as_the_shirt_lies(cell)
        care = needs(bag.garment(piece.garment), piece)
        yield ShirtCut(
            cell=cell.id,
            piece=piece.id,
            rough=_unless_cut(piece, lying.grown(rough)),
            cut=_unless_cut(piece, lying.grown(2 * quilt.seam)),
            frame=cell.frame,
            interfacing=care.interfacing,
            layers=care.layers,
        )


def _unless_cut(piece: Piece, size: Size) -> Size:
    return piece.cut or size


def _as_the_shirt_lies(cell: Cell) -> Size:
    room = cell.room.size
    return Size(room.height, room.width) if cell.turn in (90, 270) else room
