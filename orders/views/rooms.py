"""The four rooms of an order: what their heads show."""

from __future__ import annotations

from typing import Any

from django.http import Http404

from orders.customer.telling import state_of
from orders.models import Shop
from orders.models.as_seen import order_in_its_room
from orders.views.callers import OWNER, SignedIn


def room(request: SignedIn, number: int, name: str) -> dict[str, Any]:
    """Return what a room shows above its own page; an order nobody opened is not here (404)."""
    order = order_in_its_room(number)
    if order is None:
        raise Http404
    shop = Shop.objects.the()
    assert shop is not None  # an order is only opened in a shop that was set up
    return {
        "order": order,
        "shop": shop,
        "today": shop.today(),
        "room": name,
        "place": "quilts",
        "state": state_of(order, today=shop.today()),
        "is_owner": request.user.role == OWNER,
    }
