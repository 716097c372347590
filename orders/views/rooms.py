"""The four rooms of an order: what their heads show."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest
from django.shortcuts import get_object_or_404

from orders.models import Order


def room(request: HttpRequest, number: int, name: str) -> dict[str, Any]:
    """Return what a room shows above its own page; an order nobody opened is not here (404)."""
    order = get_object_or_404(Order.objects.with_little_quilt(), number=number)
    return {"order": order, "room": name, "state": state_of(order)}


def state_of(order: Order) -> Any:
    """Return the state of an order in words with its mark."""
    try:
        from orders import telling  # type: ignore[attr-defined]
    except ImportError:
        return {"words": "In work" if order.handed_over_at is None else "Handed over", "shape": "work"}
    return telling.state_of(order)
