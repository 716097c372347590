"""What the Quilt room shows of arranging: pins, the form, a search under way, and why it sits like this."""

from __future__ import annotations

from typing import Any

from orders.forms.arrange import rearrange_form
from orders.models import Order
from orders.planning import garment_of, piece_of
from orders.quilt import arranging, layouts, quilt_looks
from orders.quilt.drawn import Room, listed
from orders.quilt.teams import teams_of
from planner.quilt import Bag, Quilt


def shown(room: Room) -> dict[str, Any]:
    """Return what the layout that stands has to say; nothing before there is one."""
    move = layouts.standing_move(room.order)
    if room.quilt is None or move is None:
        return {}
    asked, names = arranging.Asked.of(move.asked), _names(room.quilt)
    return {
        "pins": move.pins,
        "pinned": pinned_in(room.quilt, move.pins),
        "why": arranging.reasons_for(move, _bag(room), teams_of(room.pieces)),
        "rearrange_form": rearrange_form(asked, seen=move.number, names=names, unit=room.shop.unit),
        "under_way": arranging.in_the_background(room.order),
    }


def names_in(order: Order) -> list[str]:
    """Return the pieces in the layout that stands, as they are named on its blocks."""
    quilt = quilt_looks.quilt_of(order)
    return _names(quilt) if quilt else []


def _names(quilt: Quilt) -> list[str]:
    return sorted(cell.piece for cell in quilt.with_pieces() if cell.piece)


def pinned_in(quilt: Quilt, pins: list[str]) -> str:
    """Name what is pinned: `02F and 12F are pinned.`"""
    here = [cell for cell in quilt.cells if cell.id in pins]
    names = sorted(cell.piece or "a block without a shirt" for cell in here)
    if not names:
        return ""
    said = f"{listed(names)} {'is' if len(names) == 1 else 'are'} pinned."
    return said[0].upper() + said[1:]


def _bag(room: Room) -> Bag:
    """The pieces of the room and their garments, without asking the records again."""
    shirts = {piece.shirt_id: piece.shirt for piece in room.pieces.values()}
    garments = tuple(garment_of(shirt) for shirt in shirts.values())
    return Bag(garments, tuple(piece_of(piece) for piece in room.pieces.values()))
