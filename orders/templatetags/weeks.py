"""Weeks as bars, and the gauge of an order: for templates."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any

from django import template

from orders.days.calendar import order_id
from orders.days.public_holidays import why_closed
from orders.days.weeks import Ahead, Week
from orders.models import Shop
from orders.templatetags.shop import HARD_SPACE

register = template.Library()

WIDEST = 78.0  # per cent of the bar at the fullest week's capacity; the rest is for what is over
UNKNOWN = "#8C8271"


@register.inclusion_tag("weeks/bars.html", takes_context=True)
def weeks_bars(
    context: template.Context, ahead: Ahead, orders: Iterable[Any], *, linked: bool = False
) -> dict[str, Any]:
    """Draw each week's hours, filled by quilts in their own color, and what is over; `linked` opens each."""
    colors = {order_id(order): color_of(order) for order in orders}
    most = max((week.capacity for week in ahead.weeks), default=0) or 1
    return {
        "bars": [bar(week, most, colors) for week in ahead.weeks],
        "today": context.get("today"),
        "linked": linked,
    }


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


@register.simple_tag
def closed_on(shop: Shop, day: date | None) -> str:
    """Return what closes the shop on the day somebody wants a quilt, empty where it is open."""
    return why_closed(shop, day) if day else ""


@register.filter
def hours_up(minutes: int) -> str:
    """Return whole hours, rounded up: `9 h`."""
    return f"{-(-minutes // 60)}{HARD_SPACE}h"


@register.filter
def hours_down(minutes: int) -> str:
    """Return whole hours, rounded down: `4 h`."""
    return f"{minutes // 60}{HARD_SPACE}h"


@register.filter
def iso_day(written: str) -> date:
    """Return a day that was kept as text."""
    return date.fromisoformat(written)


@register.filter
def of_ten(chance: float) -> str:
    """Return a chance in words, rounded down: `9 times in 10`, `hardly`, `as good as sure`."""
    tenths = int(chance * 10 + 1e-9)
    if chance >= 0.95:
        return "as good as sure"
    return f"{tenths} time{'' if tenths == 1 else 's'} in 10" if tenths else "hardly"
