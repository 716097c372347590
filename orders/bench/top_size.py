"""The top as it was sewn: its sides, measured at the bench, take the place of the reckoned ones."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.db import transaction

from orders.models import Event, Order, Person
from planner.materials import Allowances, Item, MeasuredTop, fits, measured_parts, measured_size
from planner.problems import BadInput
from planner.quilt import Quilt, Role
from planner.units import INCH, Size, show_length

WAVY = INCH // 2


@dataclass(frozen=True)
class Measured:
    """A top before its borders, raw edge to raw edge: through its middle, and at its edges where measured.

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


def as_measured(order: Order, quilt: Quilt) -> MeasuredTop:
    """Return the sides as the planner takes them; none where they cannot be those of this layout."""
    found = measured(order)
    sewn = MeasuredTop(center=found.size) if found else MeasuredTop()
    return sewn if fits(quilt, sewn) else MeasuredTop()


def why_not(found: Measured, quilt: Quilt, *, unit: str) -> dict[str, str]:
    """Say which side is far from what was reckoned: it was misread, or is that of another quilt."""
    try:
        measured_size(quilt, MeasuredTop(center=found.size))
    except BadInput as fault:
        side = {"center.height": "down"}.get(fault.field, "across")
        reckoned = quilt.field.size
        raw = getattr(reckoned, "height" if side == "down" else "width") + 2 * quilt.seam
        return {side: f"It was reckoned {show_length(raw, unit=unit)} with its seams. Measure once more."}
    return {}


def size_of(order: Order, quilt: Quilt) -> Size:
    """Return the finished size of the whole top: as it was sewn, else as it is reckoned."""
    return measured_size(quilt, as_measured(order, quilt))


def parts_as_sewn(order: Order, quilt: Quilt, allowances: Allowances) -> dict[Role, tuple[Item, ...]]:
    """Return border and binding cut to the top as it was sewn; nothing before it was measured."""
    sewn = as_measured(order, quilt)
    return dict(measured_parts(quilt, sewn, allowances=allowances)) if sewn.center else {}
