"""What an order's quilt looks like today, read off its records; no query if they came with the order."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from functools import lru_cache

from django.utils.safestring import SafeString

from orders.models import Cloth, Design, Order, Piece
from orders.models.seen import ROLES_SEEN
from orders.planning import piece_id
from orders.quilt.little_quilt import Look, draw
from planner.brief import read_quilt
from planner.quilt import Quilt
from planner.units import INCH, Size


def quilt_of(order: Order) -> Quilt | None:
    """Return the layout as it stands, or None before there is one."""
    try:
        design = order.design
    except Design.DoesNotExist:
        return None
    if hasattr(design, "standing"):
        return read_quilt(design.standing[0].quilt) if design.standing else None
    return design.quilt


def draw_of(order: Order) -> SafeString | None:
    """Draw the quilt as it stands, or None before there is a layout."""
    design = getattr(order, "design", None)
    if design is None or not hasattr(design, "standing"):
        quilt = quilt_of(order)
        return None if quilt is None else draw(quilt, look_of(order))
    if not design.standing:
        return None
    return _drawn(json.dumps([design.standing[0].quilt, vars(look_of(order))]))


@lru_cache(maxsize=500)
def _drawn(kept: str) -> SafeString:
    """Draw a layout from nothing but its own words, so that the same ones are drawn once."""
    quilt, look = json.loads(kept)
    return draw(read_quilt(quilt), Look(**look))


def look_of(order: Order) -> Look:
    """Return how far the quilt is and in which colors."""
    blocks = list(order.blocks.all())
    done = {stage.kind for stage in order.stages.all() if stage.done_at}
    return Look(
        name=name_of(order),
        colors=colors_of(block.piece for block in blocks if block.piece),
        progress={block.cell: block.progress for block in blocks},
        cloth=cloth_colors(order),
        is_top_done="join" in done,
        is_quilted="quilt" in done,
        is_bound="bind" in done,
    )


def colors_of(pieces: Iterable[Piece]) -> dict[str, str]:
    """Return the ground color of each piece by its name."""
    return {piece_id(piece): piece.ground for piece in pieces if piece.ground}


def cloth_colors(order: Order) -> Mapping[str, str]:
    """Return the color of the cloth chosen for each role."""
    if hasattr(order, "color_of_sashing"):
        found = {role: getattr(order, f"color_of_{role}") for role in ROLES_SEEN}
    else:
        grounds = dict(Cloth.objects.filter(name__in=order.cloth.values()).values_list("name", "ground"))
        found = {role: grounds.get(name, "") for role, name in order.cloth.items()}
    return {role: color for role, color in found.items() if color}


def name_of(order: Order) -> str:
    return f"No. {order.number}, {order.title}"


def wished_size(order: Order) -> Size:
    """Return the size that was asked for, or the usual one of the trade."""
    return Size(order.width or 50 * INCH, order.height or 66 * INCH)


def shirts_of(order: Order) -> int:
    """Return how many shirts of the order's bags are here."""
    counted = getattr(order, "shirts_here", None)
    if counted is not None:
        return int(counted)
    return sum(bag.shirts.filter(state__in=["in work", "used"]).count() for bag in order.bags.all())
