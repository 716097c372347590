"""Pictures of the bench."""

from __future__ import annotations

from typing import Any

from django import template

from orders.bench import Cutting
from orders.lying_panel import lying

register = template.Library()


@register.inclusion_tag("bench/lying.svg")
def lying_panel(cutting: Cutting) -> dict[str, Any]:
    """Draw a panel as it lies on the board before it is pressed."""
    return {"panel": lying(cutting)}
