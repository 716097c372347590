"""The ways an order can be taken, for its Account room."""

from __future__ import annotations

from typing import Any

from django import template

from orders.account.chosen_way import WAYS, way_of
from orders.account.ways_to_take import day_of, last_search, search_of
from orders.models import Order, Shop

register = template.Library()


@register.inclusion_tag("account/ways.html", takes_context=True)
def ways_of(context: template.Context, order: Order, shop: Shop) -> dict[str, Any]:
    """Tell the ways that were found, the one that is chosen, and whether more are looked for."""
    return shown_ways(order, shop) | {
        "csrf_token": context.get("csrf_token"),
        "request": context.get("request"),
    }


def shown_ways(order: Order, shop: Shop) -> dict[str, Any]:
    """Return what the list of ways shows."""
    search = search_of(order, shop)
    chosen = way_of(order)
    found = [
        {**way, "fits": day_of(way["fits"]), "not_before": day_of(way["not_before"]),
         "undisturbed": day_of(way["undisturbed"]), "is_chosen": way["key"] == chosen,
         "may_be_chosen": way["key"] in WAYS and way["key"] != chosen}
        for way in (search.payload.get("ways", []) if search else [])
    ]  # fmt: skip
    return {"order": order, "shop": shop, "today": shop.today(), "search": search, "ways": found,
            "is_outdated": search is None and last_search(order) is not None}  # fmt: skip
