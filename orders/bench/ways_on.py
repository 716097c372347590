"""What takes the place of a spoiled piece: cut again, made up, or the quilt laid out anew."""

from __future__ import annotations

from django.db import transaction
from django.utils import timezone

from orders.cloth.demand import ask_again
from orders.models import ApprovedPiece, Block, Event, Incident, Order, Person, Piece, Stage
from orders.planning import piece_id
from orders.quilt import block_moves, layouts, wants
from orders.quilt.blocks import pieces_by_cell
from planner.quilt import Quilt

DONE_AGAIN = ("cut", "fuse", "trim")


class CannotSettle(Exception):
    """It cannot go on like this; the message says why and what can be done."""


def cut_again(incident: Incident, *, by: Person) -> None:
    """Let the piece be cut again from what is left of its shirt: it wants a new yes, and new interfacing."""
    block, piece = _spoiled(incident)
    ask_again(incident.order, piece, by=by)
    _forget_the_cut(piece)
    Block.objects.filter(pk=block.pk).update(progress=Block.Progress.PLANNED, held="")
    _open_again(incident.order, DONE_AGAIN)
    Event.objects.note("to be cut again", by=by, order=incident.order, piece=piece.name)


def make_up(incident: Incident, *, by: Person) -> None:
    """Let plain cloth take the block, to be made up with what is left of the piece."""
    _take_out(incident, by=by)
    _open_again(incident.order, ("make up",))


def lay_out_anew(incident: Incident, *, by: Person) -> None:
    """Take the piece out of the layout; plain cloth keeps its place until another layout is drawn."""
    _take_out(incident, by=by)


def pieces_meant(incident: Incident) -> tuple[Piece, ...]:
    """Return the pieces it may have happened to: several where its block holds several and none was named."""
    held = pieces_by_cell(incident.order).get(incident.cell, ()) if incident.cell else ()
    return () if len(held) < 2 or incident.piece in held else held


def _take_out(incident: Incident, *, by: Person) -> None:
    block, piece = _spoiled(incident)
    order = incident.order
    design, quilt = layouts.standing(order)
    out = wants.to_leave_out(
        order, piece_id(piece), f"{incident.get_what_display().lower()}, kept with its shirt"
    )
    try:
        after = block_moves.emptied(quilt, _place_of(quilt, piece) or block.cell)
    except block_moves.CannotMove as fault:
        raise CannotSettle(f"{fault} Let it be kept, and change the layout in the Quilt room.") from fault
    _forget_the_cut(piece)
    keeps_others = any(cell.id == block.cell and cell.inside for cell in after.cells)
    # Only a block that is planned leaves with its place; one that keeps other pieces is put together anew.
    progress = Block.Progress.PLANNED if not keeps_others else _untrimmed(block)
    Block.objects.filter(pk=block.pk).update(progress=progress, held="")
    words = f"{piece.name} left out: {incident.get_what_display().lower()}"
    layouts.draw(order, design, after, words, seen=design.at, by=by, wants=out)


def _place_of(quilt: Quilt, piece: Piece) -> str:
    """Return the block, or the part of one, that holds a piece."""
    cells = block_moves.every_block(quilt)
    return next((cell.id for cell in cells if cell.piece == piece_id(piece)), "")


def _untrimmed(block: Block) -> str:
    return Block.Progress.FUSED if block.progress == Block.Progress.TRIMMED else block.progress


def _spoiled(incident: Incident) -> tuple[Block, Piece]:
    block = (
        incident.order.blocks.select_for_update().filter(cell=incident.cell).first()
        if incident.cell
        else None
    )
    if block is None:
        raise CannotSettle("It is not known which block it happened to. Tap how else it goes on.")
    held = pieces_by_cell(incident.order).get(block.cell, ())
    piece = incident.piece if incident.piece in held else block.piece
    if piece is None and held:
        raise CannotSettle("Several pieces share this block. Say which one it was, then settle it.")
    if piece is None:
        raise CannotSettle("It is not known which block it happened to. Tap how else it goes on.")
    if block.progress == Block.Progress.JOINED:
        raise CannotSettle("The block is sewn in. Take it out of its row first, and take that row back.")
    return block, piece


def _forget_the_cut(piece: Piece) -> None:
    """What was cut stays written; its yes is used up, and no layout keeps its size any more."""
    standing = ApprovedPiece.objects.filter(piece=piece, withdrawn_at=None)
    standing.update(withdrawn_at=timezone.now())
    Piece.objects.filter(pk=piece.pk).update(cut_width=None, cut_height=None)


def _open_again(order: Order, kinds: tuple[str, ...]) -> None:
    """Give one block's share of the time to each stage that was done."""
    count = max(1, order.blocks.count())
    for stage in Stage.objects.select_for_update().filter(order=order, kind__in=kinds, done_at__isnull=False):
        share = -(-stage.minutes // count)
        Stage.objects.filter(pk=stage.pk).update(done_at=None, minutes=stage.spent + share)


WAYS = {
    Incident.Outcome.RECUT: cut_again,
    Incident.Outcome.MADE_UP: make_up,
    Incident.Outcome.LAYOUT: lay_out_anew,
}


@transaction.atomic
def go(incident: Incident, outcome: str, *, by: Person) -> None:
    """Go one of the ways; the others change no block."""
    way = WAYS.get(Incident.Outcome(outcome))
    if way is not None:
        way(incident, by=by)
