"""What the Quilt room shows of an order's layout: ways, picture, the block that was tapped."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from django.utils.safestring import SafeString

from orders import quilt_picture
from orders.cautions import looks_of
from orders.drawn import Room, drawn_from_colors, left_out_of, view_of
from orders.layouts import standing_move
from orders.models import Cloth, Order, Piece
from orders.ways import ways_of
from planner.quilt import Quilt


@dataclass(frozen=True)
class Picked:
    """The block whose label hangs beside the picture, and the one it may trade with; GET says which."""

    block: str = ""
    act: str = ""
    other: str = ""

    @classmethod
    def of(cls, query: Mapping[str, Any], quilt: Quilt | None) -> Picked:
        """Read what was tapped; what is no longer in the layout is nothing."""
        ids = {cell.id for cell in quilt.cells} if quilt else set()
        block = query.get("block", "")
        if block not in ids:
            return cls()
        other = query.get("other", "")
        return cls(block, query.get("act", ""), other if other in ids - {block} else "")

    @property
    def chalked(self) -> tuple[str, ...]:
        return tuple(id for id in (self.block, self.other) if id)

    def link(self, id: str) -> str:
        """Where a tap on a block leads: to its label, or to the trade that waits for a second one."""
        if self.act == "trade" and id != self.block:
            return f"?block={self.block}&act=trade&other={id}#picture"
        return f"?block={id}#picture"


def shown(room: Room, picked: Picked) -> dict[str, Any]:
    """Return what the layout sections show."""
    quilt = room.quilt
    return {
        "ways": ways_of(room),
        "picture": picture_of(room, picked) if quilt else "",
        "from_colors": drawn_from_colors(quilt, view_of(room)) if quilt else "",
        "looks": looks_of(room),
        "left_out": left_out_of(room),
        "piece": _piece_in(room, picked.block),
        "others": [cell for cell in quilt.cells if cell.id != picked.block and cell.piece] if quilt else [],
        "last_move": _last_move(room.order),
    }


def _piece_in(room: Room, block: str) -> Piece | None:
    cells = room.quilt.cells if room.quilt else ()
    names = [cell.piece for cell in cells if cell.id == block and cell.piece]
    return room.pieces.get(names[0]) if names else None


def _last_move(order: Order) -> str:
    """Return in words what undo would take back; nothing when only the first layout stands."""
    design = getattr(order, "design", None)
    standing = design.standing[0] if design is not None and design.standing else None
    return standing.words if standing is not None and standing.number > 1 else ""


def shelf(order: Order) -> list[Cloth]:
    """Return the cloth a quilt may be made with, with what is spoken for."""
    return list(Cloth.objects.for_quilt(order))


def picture_of(room: Room, picked: Picked) -> SafeString:
    """Draw the large picture of the layout that stands."""
    assert room.quilt is not None
    move = standing_move(room.order)
    view = replace(
        view_of(room),
        chalked=picked.chalked,
        pinned=move.pins if move else (),
        link=lambda cell: picked.link(cell.id),
    )
    return quilt_picture.draw(room.quilt, view)
