"""Which pieces do not fit, on any page of an order."""

from __future__ import annotations

from typing import Any

from django import template

from orders.bag import cropping
from orders.bag.fitting import fitting_of
from orders.bag.measuring import wanting
from orders.bench.chalk import chalk_of
from orders.models import Order, Piece
from orders.planning import piece_id
from orders.templatetags.shop import HARD_SPACE, measure
from planner.units import Size

register = template.Library()


@register.inclusion_tag("parts/fit.html")
def fit_of(order: Order, shop: Any) -> dict[str, Any]:
    """Name the pieces of an order that do not sit whole in their block, each with what would help."""
    fitting, unmeasured = fitting_of(order, unit=shop.unit), [piece_id(each) for each in wanting(order)]
    return {
        "order": order,
        "shop": shop,
        "fitting": fitting,
        "unmeasured": len(unmeasured),
        "by_usual_sizes": len({*unmeasured} & {*fitting.names}),
    }


@register.filter
def in_full(size: Size, shop: Any) -> str:
    """Return a size to the sixteenth, or the millimeter: `11 3/16 × 13⅛ in`."""
    across = measure(size.width, shop).removesuffix(f"{HARD_SPACE}{shop.unit}")
    return f"{across} × {measure(size.height, shop)}"


@register.filter
def off_middle(piece: Piece, shop: Any) -> str:
    """Say how far off its print's middle a piece is cut, where it is."""
    return cropping.off_middle(piece, shop.unit)


@register.filter
def chalk(cutting: Any) -> str:
    """Return the corners of the first cut on a piece’s photo as a path; empty where it is not placed."""
    return "L".join(f"{x} {y}" for x, y in chalk_of(cutting))
