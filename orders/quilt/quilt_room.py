"""What the Quilt room shows of an order's layout: ways, the wall, what to look at, what is left out."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from orders.models import Cloth, Order
from orders.quilt import quilt_wall
from orders.quilt.cautions import looks_of
from orders.quilt.drawn import Room, left_out_of
from orders.quilt.ways import ways_of
from planner.units import Size


def shown(room: Room, query: Mapping[str, Any]) -> dict[str, Any]:
    """Return what the layout sections show; `query` says which block was tapped."""
    return {
        "ways": ways_of(room),
        "looks": looks_of(room),
        "left_out": left_out_of(room),
        **quilt_wall.shown(room, query),
    }


def nearest_size(room: Room) -> Size | None:
    """Return the size nearest to the wish that all shirts fill, where none of the ways comes to it."""
    if room.quilt is not None or room.plan.options:
        return None
    figures = (each.figures for each in room.plan.problems)
    return next((Size(each["width"], each["height"]) for each in figures if "width" in each), None)


def shelf(order: Order) -> list[Cloth]:
    """Return the cloth a quilt may be made with, with what is spoken for."""
    return list(Cloth.objects.for_quilt(order))
