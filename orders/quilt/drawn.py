"""An order's layout as it is drawn, with what the planner says of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from orders.cloth.cloth_looks import look_of
from orders.cloth.swatch_tiles import Swatch, swatch_of
from orders.models import Cloth, Order, Piece, Shop
from orders.planning import piece_id
from orders.quilt import quilt_looks, quilt_picture
from orders.quilt.answers import answer
from orders.quilt.block_moves import is_same_layout
from orders.quilt.layouts import pieces_of
from planner.colour import FabricLook
from planner.layout import Layout
from planner.plan import Offer, Plan
from planner.quilt import Quilt

MOST_NAMED = 6  # more names than that are a number


@dataclass(frozen=True, kw_only=True)
class Wall:
    """What hangs on the wall: an order's layout as it is drawn, its shirts and its cloth."""

    order: Order
    shop: Shop
    quilt: Quilt | None
    pieces: Mapping[str, Piece]
    cloth: Mapping[str, str]
    swatches: Mapping[str, Swatch] = field(default_factory=dict)
    looks: Mapping[str, FabricLook] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class Room(Wall):
    """The wall, and all that follows from what hangs there."""

    plan: Plan

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


def wall_of(order: Order, shop: Shop) -> Wall:
    """Read an order's layout, and reckon nothing."""
    chosen = Cloth.objects.select_related("swatch").chosen_for(order)
    swatches = {role: swatch_of(cloth) for role, cloth in chosen.items()}
    looks = {role: look_of(cloth) for role, cloth in chosen.items()}
    return Wall(
        order=order,
        shop=shop,
        quilt=quilt_looks.quilt_of(order),
        pieces={piece_id(piece): piece for piece in pieces_of(order)},
        cloth={role: cloth.ground for role, cloth in chosen.items() if cloth.ground},
        swatches={role: swatch for role, swatch in swatches.items() if swatch is not None},
        looks={role: look for role, look in looks.items() if look is not None},
    )


def room_of(order: Order, shop: Shop) -> Room:
    """Read an order's layout and reckon what follows from it."""
    wall = wall_of(order, shop)
    return Room(**vars(wall), plan=answer(order, shop, drawn=wall.quilt))


def view_of(room: Wall) -> quilt_picture.View:
    """Return what every picture of the layout shows: panels and cloth."""
    return quilt_picture.View(panels=room.pieces, cloth=room.cloth, swatches=room.swatches)


def drawn_from_colors(quilt: Quilt, view: quilt_picture.View) -> str:
    """Say which shirts are drawn from their colors and why: no photo yet, or one whose file is gone."""
    panels = [(cell.piece or "", view.panel(cell)) for cell in quilt.with_pieces()]
    gone = [name for name, panel in panels if panel.is_missing]
    yet = [name for name, panel in panels if not panel.is_on_disk and not panel.is_missing]
    told = (
        _from_color(yet, "without a photo yet"),
        _from_color(gone, "whose photo is missing from the disk"),
    )
    return " ".join(words for words in told if words)


def _from_color(names: list[str], lack: str) -> str:
    if len(names) > MOST_NAMED:
        return f"{len(names)} shirts {lack} are drawn from their colors."
    return f"{listed(names)} {lack}, drawn from the color." if names else ""


def left_out_of(room: Room) -> tuple[tuple[Piece, str], ...]:
    """Return the pieces without a block, each with the reason why."""
    left = room.layout.left_out if room.layout else ()
    reasons = [(room.pieces[each.piece], each.reason) for each in left if each.piece in room.pieces]
    return tuple((piece, piece.why_out or reason) for piece, reason in reasons)


def listed(names: Iterable[str]) -> str:
    """Return names as they are said: `04F, 07F and 09F`."""
    *first, last = [*names] or [""]
    return f"{', '.join(first)} and {last}" if first else last
