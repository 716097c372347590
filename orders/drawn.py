"""An order's layout as it is drawn, with what the planner says of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from orders import quilt_looks, quilt_picture
from orders.answers import answer
from orders.block_moves import is_same_layout
from orders.layouts import pieces_of
from orders.models import Order, Piece, Shop
from orders.planning import piece_id
from planner.layout import Layout
from planner.plan import Offer, Plan
from planner.quilt import Quilt


@dataclass(frozen=True)
class Room:
    """All that the layout needs to be shown."""

    order: Order
    shop: Shop
    quilt: Quilt | None
    plan: Plan
    pieces: Mapping[str, Piece]
    cloth: Mapping[str, str]

    @property
    def offer(self) -> Offer | None:
        """The answer for the layout that stands, or for the one put first."""
        if not self.plan.options:
            return None
        return self.plan.options[0 if self.quilt else self.plan.chosen or 0]

    @property
    def layout(self) -> Layout | None:
        """The layout that stands, with the notes of the way it was taken from."""
        found = self.same_way or self.offer
        return found.layout if found else None

    @property
    def same_way(self) -> Offer | None:
        """The way on offer that is laid out as the quilt is drawn."""
        if self.quilt is None:
            return None
        ways = self.plan.options[1:]
        return next((each for each in ways if is_same_layout(each.layout.quilt, self.quilt)), None)


def room_of(order: Order, shop: Shop) -> Room:
    """Read an order's layout and reckon what follows from it."""
    quilt = quilt_looks.quilt_of(order)
    pieces = {piece_id(piece): piece for piece in pieces_of(order)}
    return Room(
        order=order,
        shop=shop,
        quilt=quilt,
        plan=answer(order, shop, drawn=quilt),
        pieces=pieces,
        cloth=quilt_looks.cloth_colors(order),
    )


def view_of(room: Room) -> quilt_picture.View:
    """Return what every picture of the layout shows: panels and cloth."""
    return quilt_picture.View(panels=room.pieces, cloth=room.cloth)


def left_out_of(room: Room) -> tuple[tuple[Piece, str], ...]:
    """Return the pieces without a block, each with the reason why."""
    left = room.layout.left_out if room.layout else ()
    reasons = [(room.pieces[each.piece], each.reason) for each in left if each.piece in room.pieces]
    return tuple((piece, piece.why_out or reason) for piece, reason in reasons)


def listed(names: Iterable[str]) -> str:
    """Return names as they are said: `04F, 07F and 09F`."""
    *first, last = [*names] or [""]
    return f"{', '.join(first)} and {last}" if first else last
