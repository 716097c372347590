"""The picture on the wall: the block that was tapped, its label, and what a form would make of it.

Nothing is reckoned here, so that a tap is answered at once.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from django.http import QueryDict
from django.utils.safestring import SafeString

from orders.forms.block import BorderForm, StripsForm
from orders.forms.finishing import FinishForm
from orders.forms.quilt import LeaveOutForm
from orders.models import Piece
from orders.planning import piece_of
from orders.quilt import arranging_room, block_label, block_strips, drawn, layouts, quilt_picture
from orders.quilt.block_fit import strips_in
from orders.quilt.block_label import Label
from orders.quilt.block_moves import CannotMove, every_block
from orders.quilt.drawn import Wall
from planner.quilt import Quilt
from planner.units import Sides, Size


@dataclass(frozen=True)
class Picked:
    """The block whose label hangs beside the picture, and the one it may trade with; GET says which."""

    block: str = ""
    act: str = ""
    other: str = ""

    @classmethod
    def of(cls, query: Mapping[str, Any], quilt: Quilt | None) -> Picked:
        """Read what was tapped; what is no longer in the layout is nothing."""
        ids = {cell.id for cell in every_block(quilt)} if quilt else set()
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


@dataclass(frozen=True)
class Tried:
    """The layout as a form that is being filled in would make it, or why it cannot be made so."""

    quilt: Quilt
    why_not: str = ""


def shown(wall: Wall, query: Mapping[str, Any]) -> dict[str, Any]:
    """Return what the picture and the label beside it show; nothing before there is a layout."""
    move = layouts.standing_move(wall.order)
    if wall.quilt is None or move is None:
        return {"quilt": None, "picked": Picked(), "seen": 0}
    picked = Picked.of(query, wall.quilt)
    label = block_label.label_of(wall, picked.block)
    tried = tried_on(wall, picked, query)
    pins = move.pins
    return {
        "quilt": wall.quilt,
        "seen": move.number,
        "picked": picked,
        "label": label,
        "picture": picture_of(wall, picked, tried.quilt, pins),
        "size": tried.quilt.size,
        "is_tried": tried.quilt is not wall.quilt,
        "why_not": tried.why_not,
        "tried_room": _room_in(tried.quilt, picked.block) if tried.quilt is not wall.quilt else None,
        "pins": pins,
        "pinned": arranging_room.pinned_in(wall.quilt, pins),
        "drawn_from_colors": drawn.drawn_from_colors(wall.quilt, drawn.view_of(wall)),
        "others": others_in(wall, picked.block),
        "last_move": move.words if move.made_on else "",
        "next_move": wall.order.design.next_move,
        **_forms(wall, label, picked.act, move.number),
    }


def tried_on(wall: Wall, picked: Picked, query: Mapping[str, Any]) -> Tried:
    """Return the layout with the strips or the border that a page asks about before it is sent."""
    assert wall.quilt is not None
    try:
        return Tried(_tried(wall, wall.quilt, picked, query) or wall.quilt)
    except CannotMove as reason:
        return Tried(wall.quilt, str(reason))


def picture_of(wall: Wall, picked: Picked, quilt: Quilt, pins: Iterable[str]) -> SafeString:
    """Draw the large picture of a layout, each block a link."""
    view = replace(
        drawn.view_of(wall),
        chalked=picked.chalked,
        pinned=tuple(pins),
        link=lambda cell: picked.link(cell.id),
    )
    return quilt_picture.draw(quilt, view)


def others_in(wall: Wall, block: str) -> list[tuple[str, str]]:
    """Return the blocks that one may trade places with, in reading order, each with its name."""
    assert wall.quilt is not None
    cells = sorted(wall.quilt.cells, key=lambda cell: (cell.at.y, cell.at.x))
    return [(cell.id, block_label.title_of(cell, wall.pieces)) for cell in cells if cell.id != block]


def _tried(wall: Wall, quilt: Quilt, picked: Picked, query: Mapping[str, Any]) -> Quilt | None:
    unit, data = wall.shop.unit, _as_sent(query)
    if "across" in data or "down" in data:
        border = BorderForm(data, unit=unit)
        return block_strips.bordered(quilt, **border.widths) if border.is_valid() else None
    if picked.act != "strips" or "width" not in data:
        return None
    strips, piece = StripsForm(data, unit=unit), _piece_in(wall, picked.block)
    if piece is None or not strips.is_valid() or strips.frame is None:
        return None
    return block_strips.framed(quilt, picked.block, strips.frame, piece=piece_of(piece), unit=unit)


def _as_sent(query: Mapping[str, Any]) -> QueryDict:
    """A form that is still being filled in, as if it had been sent."""
    if not isinstance(query, QueryDict):
        return QueryDict()
    data = query.copy()
    data["seen"] = "0"
    return data


def _piece_in(wall: Wall, block: str) -> Piece | None:
    assert wall.quilt is not None
    name = next((cell.piece for cell in every_block(wall.quilt) if cell.id == block), None)
    return wall.pieces.get(name or "")


def _room_in(quilt: Quilt, block: str) -> Size | None:
    return next((cell.room.size for cell in every_block(quilt) if cell.id == block), None)


def _forms(wall: Wall, label: Label | None, act: str, seen: int) -> dict[str, Any]:
    """The forms of the act that was tapped, as they stand, and that of the border."""
    assert wall.quilt is not None
    across, down = block_strips.border_of(wall.quilt)
    border = {"across": across or None, "down": down or None, "seen": seen}
    finish = FinishForm.of(wall.order, wall.quilt) | {"seen": seen}
    forms: dict[str, Any] = {
        "border_form": BorderForm(unit=wall.shop.unit, initial=border),
        "finish_form": FinishForm(initial=finish),
    }
    if label is None:
        return forms
    here = {"block": label.cell.id, "seen": seen}
    if act == "leave":
        forms["leave_form"] = LeaveOutForm(initial=here)
    if act == "side":
        forms["panels"] = block_label.panels_for(wall, label)
    if act == "strips" and label.piece is not None:
        standing = StripsForm.standing(label.cell.frame)
        forms["strips_form"] = StripsForm(unit=wall.shop.unit, initial=standing | here)
        needed = strips_in(
            piece_of(label.piece), label.cell.at.size, turn=label.cell.turn, unit=wall.shop.unit
        )
        forms["needed"] = block_label.strips_words(needed.frame or Sides(), wall.shop.unit)
    return forms
