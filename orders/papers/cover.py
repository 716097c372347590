"""The little quilt on a paper: as it will be, in its shirts' own colors."""

from __future__ import annotations

from orders.models import Order
from orders.quilt import little_quilt, quilt_looks


def cover_of(order: Order) -> str:
    """Return the finished quilt as SVG, or nothing before it is laid out."""
    quilt = quilt_looks.quilt_of(order)
    if quilt is None:
        return ""
    look = quilt_looks.look_of(order)
    done = little_quilt.finished(look.name, colors=look.colors, cloth=look.cloth)
    return str(little_quilt.draw(quilt, done))
