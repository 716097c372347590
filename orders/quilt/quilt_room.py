"""What the Quilt room shows of an order's layout: ways, the wall, what to look at, what is left out."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from orders.models import Cloth, Order
from orders.quilt import quilt_wall
from orders.quilt.cautions import looks_of
from orders.quilt.drawn import Room, left_out_of
from orders.quilt.ways import ways_of


def shown(room: Room, query: Mapping[str, Any]) -> dict[str, Any]:
    """Return what the layout sections show; `query` says which block was tapped."""
    return {
        "ways": ways_of(room),
        "looks": looks_of(room),
        "left_out": left_out_of(room),
        **quilt_wall.shown(room, query),
    }


def shelf(order: Order) -> list[Cloth]:
    """Return the cloth a quilt may be made with, with what is spoken for."""
    return list(Cloth.objects.for_quilt(order))
