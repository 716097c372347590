"""Which pieces are wanted in a quilt: what a move says of it, taken back and said again with the move."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from orders.models import Event, Order, Person, Piece
from orders.planning import piece_id, shirts_of

Wants = Mapping[str, Any]  # by piece: [wanted, why not] before the move, and after it


def to_leave_out(order: Order, name: str | None, why: str) -> dict[str, Any]:
    """Return what a move says that leaves a piece out."""
    named = [piece for piece in _pieces(order) if piece_id(piece) == name]
    return {piece_id(each): [[each.wanted, each.why_out], ["out", why]] for each in named}


def to_want(order: Order, name: str) -> dict[str, Any]:
    """Return what a move says that takes a piece in which was left out; nothing of one that was not."""
    out = [piece for piece in _pieces(order) if piece_id(piece) == name and piece.wanted == "out"]
    return {piece_id(each): [["out", each.why_out], [wanted_before(order, each), ""]] for each in out}


@transaction.atomic
def say(order: Order, wants: Wants, *, by: Person) -> None:
    """Let pieces be wanted, or left out with a reason, as a move says."""
    _write(order, {name: after for name, (_, after) in wants.items()}, by=by)


@transaction.atomic
def put_back(order: Order, wants: Wants, *, by: Person) -> None:
    """Let pieces be wanted as they were before a move."""
    _write(order, {name: before for name, (before, _) in wants.items()}, by=by)


@transaction.atomic
def bring_back(order: Order, piece: Piece, *, by: Person) -> None:
    """Want a piece again that was left out; the next layout finds it a block."""
    if piece.wanted == "out":
        piece.wanted, piece.why_out = wanted_before(order, piece), ""
        piece.save(update_fields=["wanted", "why_out"])
        Event.objects.note("brought back", by=by, order=order, piece=piece.name)


def wanted_before(order: Order, piece: Piece) -> str:
    """Return how a piece that is left out was wanted before: may, where nobody said."""
    left_out = order.events.filter(what="left out", facts__piece=piece.name).newest_first().first()
    return str(left_out.facts["before"]) if left_out else "may"


def _write(order: Order, states: Mapping[str, Any], *, by: Person) -> None:
    for piece in _pieces(order) if states else ():
        state = states.get(piece_id(piece))
        if state is not None and [piece.wanted, piece.why_out] != list(state):
            before = piece.wanted
            piece.wanted, piece.why_out = state
            piece.save(update_fields=["wanted", "why_out"])
            _note(order, piece, before, by)


def _note(order: Order, piece: Piece, before: str, by: Person) -> None:
    if piece.wanted == "out":
        Event.objects.note("left out", by=by, order=order, piece=piece.name, before=before, why=piece.why_out)
    else:
        Event.objects.note("brought back", by=by, order=order, piece=piece.name)


def _pieces(order: Order) -> list[Piece]:
    pieces = (piece for shirt in shirts_of(order) for piece in shirt.pieces.all())
    return [piece for piece in pieces if piece.order_id in (None, order.pk)]
