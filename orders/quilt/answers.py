"""What the planner says of an order as it stands, reckoned once for the same records and the same day."""

from __future__ import annotations

import hashlib
from dataclasses import replace

from django.core.cache import cache

from orders.days.calendar import AT_ONCE
from orders.models import Order, Shop
from orders.planning import EFFORT, brief_for, plan_at_once
from orders.quilt import arranging, mixing
from planner.brief import Brief
from planner.plan import Offer, Plan
from planner.quilt import Quilt

KEPT_FOR = 60 * 60  # seconds; the key names all that goes in, so an old answer is never shown


def answer(order: Order, shop: Shop, *, drawn: Quilt | None = None) -> Plan:
    """Return the plan for an order; `drawn` is the layout that stands, answered first.

    A mixed layout that was found for it is answered too; none is searched for here. Ways that are not
    drawn yet have their colors spread.
    """
    brief, today, mixed = brief_for(order, shop, drawn=drawn), shop.today(), mixing.found_for(order)
    teams = arranging.teams_in(order)
    key = (
        "plan-"
        + hashlib.sha256(f"{today} {EFFORT} {AT_ONCE} {brief!r} {mixed!r} {teams}".encode()).hexdigest()
    )
    found = cache.get(key)
    if found is None:
        found = plan_at_once(brief, today=today, found=mixed)
        found = _with_colors_spread(found, brief, teams)
        cache.set(key, found, KEPT_FOR)
    assert isinstance(found, Plan)
    return found


def _with_colors_spread(found: Plan, brief: Brief, teams: arranging.Teams) -> Plan:
    """What hangs on the wall stays as it lies; each way on offer is shown as it could hang there."""

    def spread(offer: Offer) -> Offer:
        return replace(offer, layout=arranging.spread(offer.layout, brief.bag, teams))

    first = 1 if brief.quilt else 0
    return replace(found, options=(*found.options[:first], *map(spread, found.options[first:])))
