"""Weeks as bars, and the gauge of an order: for templates."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from django import template

from orders.calendar import order_id
from orders.templatetags.shop import HARD_SPACE
from orders.weeks import Ahead, Week

register = template.Library()

WIDEST = 78.0  # per cent of the bar at the fullest week's capacity; the rest is for what is over
UNKNOWN = "#8C8271"


@register.inclusion_tag("weeks/bars.html", takes_context=True)
def weeks_bars(context: template.Context, ahead: Ahead, orders: Iterable[Any]) -> dict[str, Any]:
    """Draw each week's hours, filled by quilts in their own color, and what is over."""
    colors = {order_id(order): color_of(order) for order in orders}
    most = max((week.capacity for week in ahead.weeks), default=0) or 1
    return {"bars": [bar(week, most, colors) for week in ahead.weeks], "today": context.get("today")}


def bar(week: Week, most: int, colors: Mapping[str, str]) -> dict[str, Any]:
    """Return the pieces of one bar, their places in per cent of its width."""
    at, pieces = 0.0, []
    for share in week.shares:
        width = WIDEST * share.minutes / most
        pieces.append(
            {"x": round(at, 2), "width": round(max(0.4, width - 0.4), 2), "penciled": share.is_penciled,
             "color": colors.get(share.order, UNKNOWN)}
        )  # fmt: skip
        at += width
    cap = WIDEST * week.capacity / most
    return {
        "week": week,
        "pieces": pieces,
        "cap": round(cap, 2),
        "over": round(min(WIDEST * week.over / most, 99 - cap), 2) if week.over else 0,
        "over_at": round(cap + 0.4, 2),
    }


def color_of(order: Any) -> str:
    """Return a color of the order's own: its first shirt's."""
    grounds = (block.piece.ground for block in order.blocks.all() if block.piece and block.piece.ground)
    return next(grounds, UNKNOWN)


@register.filter
def hours_up(minutes: int) -> str:
    """Return whole hours, rounded up: `9 h`."""
    return f"{-(-minutes // 60)}{HARD_SPACE}h"


@register.filter
def hours_down(minutes: int) -> str:
    """Return whole hours, rounded down: `4 h`."""
    return f"{minutes // 60}{HARD_SPACE}h"
