"""The top as it was sewn: its sides, measured at the bench, take the place of the reckoned ones."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from django.db import transaction

from orders.models import Event, Order, Person
from planner.materials import Allowances, Item, parts
from planner.quilt import Cell, Quilt
from planner.units import INCH, Rect, Size

WAVY = INCH // 2
FOLLOWS = ("border", "binding")


@dataclass(frozen=True)
class Measured:
    """A top before its borders, in ticks: through its middle, and at its edges where they were measured.

    Borders are cut to the middle, so that a wavy edge is eased in (common practice).
    """

    across: int
    down: int
    top: int | None = None
    right: int | None = None
    bottom: int | None = None
    left: int | None = None

    @property
    def size(self) -> Size:
        return Size(self.across, self.down)

    @property
    def wavy(self) -> tuple[str, ...]:
        """Return the edges that differ from the middle by more than half an inch."""
        pairs = (("top", self.across), ("bottom", self.across), ("left", self.down), ("right", self.down))
        sides = [(name, getattr(self, name), middle) for name, middle in pairs]
        return tuple(name for name, side, middle in sides if side is not None and abs(side - middle) > WAVY)


def measured(order: Order) -> Measured | None:
    """Return the top as it was measured, or None before it was."""
    return Measured(**order.top) if order.top else None


@transaction.atomic
def measure(order: Order, found: Measured, *, by: Person) -> None:
    """Write the sides down; measured again, the new ones stand. The same again changes nothing."""
    now = Order.objects.select_for_update().get(pk=order.pk)
    facts: dict[str, Any] = {name: side for name, side in vars(found).items() if side is not None}
    if now.top != facts:
        Order.objects.filter(pk=order.pk).update(top=facts)
        Event.objects.note("top measured", by=by, order=now, sides=facts, before=now.top)
    order.top = facts


def as_sewn(quilt: Quilt, found: Measured) -> Quilt:
    """Return a quilt as large as the top was sewn, one plain field inside its borders.

    It stands for the blocks: what is reckoned from it is whatever lies outside them.
    """
    left, top = (sum(getattr(each.widths, side) for each in quilt.borders) for side in ("left", "top"))
    right, bottom = (
        sum(getattr(each.widths, side) for each in quilt.borders) for side in ("right", "bottom")
    )
    size = Size(found.across + left + right, found.down + top + bottom)
    field = Cell("top", Rect(left, top, found.across, found.down))
    return replace(quilt, size=size, cells=(field,), sashing=None)


def size_of(order: Order, quilt: Quilt) -> Size:
    """Return the size of the whole top: as it was sewn, else as it is reckoned."""
    found = measured(order)
    return as_sewn(quilt, found).size if found else quilt.size


def parts_as_sewn(order: Order, quilt: Quilt, allowances: Allowances) -> dict[str, tuple[Item, ...]]:
    """Return border and binding cut to the top as it was sewn; nothing before it was measured."""
    found = measured(order)
    if found is None:
        return {}
    return {
        role: items
        for role, items in parts(as_sewn(quilt, found), allowances=allowances).items()
        if role in FOLLOWS
    }
