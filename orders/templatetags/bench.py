"""Pictures of the bench."""

from __future__ import annotations

from typing import Any

from django import template

from orders.bag import pillows
from orders.bench.bench import Cutting
from orders.bench.lying_panel import lying
from orders.models import Order, Shop

register = template.Library()


@register.inclusion_tag("bench/lying.svg")
def lying_panel(cutting: Cutting) -> dict[str, Any]:
    """Draw a panel as it lies on the board before it is pressed."""
    return {"panel": lying(cutting)}


@register.inclusion_tag("bench/pillows.html")
def enough_for_pillows(order: Order) -> dict[str, Any]:
    """Say what the leftovers would still give, before they go home."""
    shop = Shop.objects.the()
    return {"pillows": pillows.enough_for(order, shop) if shop else None, "shop": shop}
