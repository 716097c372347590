"""Which pieces each block of a quilt holds, and what a block is called at the bench."""

from __future__ import annotations

from orders.models import Block, Design, Order, Piece
from orders.planning import piece_id, shirts_of
from planner.quilt import Quilt


def pieces_by_cell(order: Order) -> dict[str, tuple[Piece, ...]]:
    """Return the pieces of each block by its cell: one, several in a composite, none in a filler."""
    quilt = drawn_quilt(order)
    if quilt is None:
        blocks = order.blocks.select_related("piece__shirt")
        return {block.cell: (block.piece,) if block.piece else () for block in blocks}
    pieces = {piece_id(piece): piece for shirt in shirts_of(order) for piece in with_shirt(shirt)}
    return {
        cell.id: tuple(pieces[each.piece] for each in cell.with_pieces() if each.piece in pieces)
        for cell in quilt.cells
    }


def with_shirt(shirt: object) -> list[Piece]:
    """Return a shirt's pieces, each knowing its shirt, so that no name costs a query."""
    pieces = list(shirt.pieces.all())  # type: ignore[attr-defined]
    for piece in pieces:
        piece.shirt = shirt
    return pieces


def drawn_quilt(order: Order) -> Quilt | None:
    """Return the layout as it stands, or None before there is one."""
    try:
        return order.design.quilt
    except Design.DoesNotExist:
        return None


def name_of(order: Order, block: Block, pieces: tuple[Piece, ...]) -> str:
    """Return what a block is called at the bench: 31-09F, or by its place when it holds several or none."""
    return label(order, pieces[0]) if len(pieces) == 1 else f"{order.number} block {block.cell}"


def label(order: Order, piece: Piece) -> str:
    """Return what a piece is called once it has left its shirt: order, shirt, side."""
    return f"{order.number}-{piece.name}"
