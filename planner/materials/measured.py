"""What is cut once the top lies on the table: its measured sides replace the reckoned ones."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from planner.problems import BadInput
from planner.quilt import Quilt, Role
from planner.units import Size

from .allowances import Allowances
from .borders import border_strips
from .cloth import Item
from .finishing import finishing
from .parts import binding

FAR_OFF = 20  # a side that differs by more than one in so many was misread or belongs to another quilt


@dataclass(frozen=True)
class MeasuredTop:
    """A pieced center and a top with its borders as measured, raw edge to raw edge; None: as reckoned.

    Measure through the middle and near both edges, and take the mean (common practice).
    """

    center: Size | None = None
    top: Size | None = None


def measured_size(quilt: Quilt, measured: MeasuredTop) -> Size:
    """Return the finished size: of the measured top, or else of the measured center and its borders."""
    if measured.top is not None:
        return _without_seams(measured.top, quilt.size, quilt, "top")
    center = measured_center(quilt, measured)
    return Size(
        quilt.size.width + center.width - quilt.field.width,
        quilt.size.height + center.height - quilt.field.height,
    )


def measured_center(quilt: Quilt, measured: MeasuredTop) -> Size:
    """Return the finished size of what lies inside the borders."""
    if measured.center is None:
        return quilt.field.size
    return _without_seams(measured.center, quilt.field.size, quilt, "center")


def measured_parts(
    quilt: Quilt, measured: MeasuredTop, *, allowances: Allowances
) -> Mapping[Role, tuple[Item, ...]]:
    """Return borders as long as the measured center asks, a binding round the measured top, its sleeve.

    For the back, the batting and the quilter's sheet take `measured_size`.
    """
    size = measured_size(quilt, measured)
    perimeter = 2 * (size.width + size.height)
    found: dict[Role, tuple[Item, ...]] = {
        "border": border_strips(quilt, allowances, center=measured_center(quilt, measured)),
        "binding": binding(quilt, allowances, perimeter=perimeter),
        "sleeve": finishing(quilt, allowances, size=size),
    }
    return {role: items for role, items in found.items() if items}


def fits(quilt: Quilt, measured: MeasuredTop) -> bool:
    """Say whether sides can be those of a quilt; after another layout was chosen they are not any more."""
    try:
        measured_size(quilt, measured)
    except BadInput:
        return False
    return True


def _without_seams(raw: Size, reckoned: Size, quilt: Quilt, name: str) -> Size:
    if min(raw.width, raw.height) <= 2 * quilt.seam:
        raise BadInput(name, "must be wider and higher than its seams.")
    found = Size(raw.width - 2 * quilt.seam, raw.height - 2 * quilt.seam)
    for side in ("width", "height"):
        if FAR_OFF * abs(getattr(found, side) - getattr(reckoned, side)) > getattr(reckoned, side):
            raise BadInput(f"{name}.{side}", "is far from what was reckoned; measure again.")
    return found
