"""What the planner says of an order as it stands, reckoned once for the same records and the same day."""

from __future__ import annotations

import hashlib

from django.core.cache import cache

from orders import mixing
from orders.models import Order, Shop
from orders.planning import EFFORT, brief_for
from planner.plan import Plan, plan
from planner.problems import Limit
from planner.quilt import Quilt

KEPT_FOR = 60 * 60  # seconds; the key names all that goes in, so an old answer is never shown


def answer(order: Order, shop: Shop, *, drawn: Quilt | None = None) -> Plan:
    """Return the plan for an order; `drawn` is the layout that stands, answered first.

    A mixed layout that was found for it is answered too; none is searched for here.
    """
    brief, today, mixed = brief_for(order, shop, drawn=drawn), shop.today(), mixing.found_for(order)
    key = "plan-" + hashlib.sha256(f"{today} {EFFORT} {brief!r} {mixed!r}".encode()).hexdigest()
    found = cache.get(key)
    if found is None:
        found = plan(brief, today=today, limit=Limit(effort=EFFORT), found=mixed)
        cache.set(key, found, KEPT_FOR)
    assert isinstance(found, Plan)
    return found
