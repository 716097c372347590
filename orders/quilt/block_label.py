"""The label that hangs on a block that was tapped: what it is, and what can be done with it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from orders.models import Block, Piece
from orders.planning import piece_of
from orders.quilt.block_fit import SIDES
from orders.quilt.block_moves import block, every_block, pieces_in, whole_of
from orders.quilt.block_panels import Panel, others_for
from orders.quilt.drawn import Wall, listed
from planner.quilt import Cell, Quilt
from planner.units import Sides, Size, show_length

LARGER = 2  # a block at least so many times the usual one is a feature block


@dataclass(frozen=True)
class Label:
    """What is written on it; `parts` are those that share a block, `whole` the block a part lies in."""

    cell: Cell
    title: str
    piece: Piece | None
    strips: str
    upside_down: bool
    progress: str
    parts: tuple[tuple[str, str], ...]
    whole: str
    is_feature: bool

    @property
    def is_cut(self) -> bool:
        return self.progress != Block.Progress.PLANNED

    @property
    def room(self) -> Size:
        return self.cell.room.size


def label_of(wall: Wall, id: str) -> Label | None:
    """Return the label of a block of the layout that stands; None where there is no such block."""
    if wall.quilt is None or all(cell.id != id for cell in every_block(wall.quilt)):
        return None
    cell, whole = block(wall.quilt, id), whole_of(wall.quilt, id)
    piece = wall.pieces.get(cell.piece or "")
    return Label(
        cell=cell,
        title=title_of(cell, wall.pieces),
        piece=piece,
        strips=strips_words(cell.frame, wall.shop.unit),
        upside_down=cell.turn == 180,
        progress=_progress(wall, cell, piece),
        parts=tuple((each.id, title_of(each, wall.pieces)) for each in cell.inside),
        whole=whole.id if whole else "",
        is_feature=_is_feature(wall.quilt, cell),
    )


def title_of(cell: Cell, pieces: Mapping[str, Piece]) -> str:
    """Name a block: `05F, tee front`, `03L and 07P in one block`, or plain cloth."""
    if cell.inside:
        return f"{listed(pieces_in(cell))} in one block"
    piece = pieces.get(cell.piece or "")
    if piece is None:
        return cell.piece or "Plain cloth"
    return f"{cell.piece}, {piece.shirt.kind} {piece.side.replace('-', ' ')}".strip()


def strips_words(frame: Sides, unit: str) -> str:
    """Say which strips there are: `1 in all round`, or `top 1 in, left 2 in`; nothing of none."""
    widths = {side: _shown(getattr(frame, side), unit) for side in SIDES if getattr(frame, side)}
    if len(widths) == len(SIDES) and len(set(widths.values())) == 1:
        return f"{widths['top']} all round"
    return ", ".join(f"{side} {width}" for side, width in widths.items())


def panels_for(wall: Wall, label: Label) -> list[tuple[Piece, Panel]]:
    """Return what could be shown in a block instead, each with whether it fits."""
    assert wall.quilt is not None
    planned = [piece_of(piece) for piece in wall.pieces.values()]
    found = others_for(wall.quilt, label.cell, planned, unit=wall.shop.unit)
    return [(wall.pieces[each.piece.id], each) for each in found]


def _progress(wall: Wall, cell: Cell, piece: Piece | None) -> str:
    rows = {row.cell: row.progress for row in wall.order.blocks.all()}
    if piece is not None and piece.cut_width:
        return rows.get(cell.id) or Block.Progress.CUT
    return rows.get(cell.id) or Block.Progress.PLANNED


def _is_feature(quilt: Quilt, cell: Cell) -> bool:
    """Say whether a block takes the place of several, where the others are alike."""
    sizes = [each.at.size for each in quilt.cells]
    usual = max(set(sizes), key=lambda size: (sizes.count(size), -size.area))
    return (
        sizes.count(usual) > 1
        and sizes.count(cell.at.size) == 1
        and (cell.at.width >= LARGER * usual.width and cell.at.height >= LARGER * usual.height)
    )


def _shown(length: int, unit: str) -> str:
    return show_length(length, unit=unit, rounding="nearest").removeprefix("about ")
