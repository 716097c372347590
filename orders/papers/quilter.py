"""What stands on the quilter's sheet: what comes, how large, what goes under it, what melts or is hard."""

from __future__ import annotations

from typing import Any

from orders.account.money import the_shop
from orders.bench import top_size
from orders.bench.bench import bench_of
from orders.bench.quilter_map import map_of, marked_blocks
from orders.bench.sewn import beyond
from orders.models import Cloth, Order, Outside
from orders.planning import bag_of, quilted_how
from orders.quilt.answers import answer
from orders.quilt.quilt_weight import weight_of
from planner.units import Size

from .saying import Saying

GRAMS_IN_A_POUND = 453.59237
WAYS = {"upright": "panels upright", "level": "panels level", "whole": "in one piece"}


def quilter_facts(order: Order) -> dict[str, Any]:
    """Return the sheet as things stand: the top as measured, or as it was reckoned and marked so."""
    shop = the_shop()
    say, lies = Saying(shop), bench_of(order, rough=shop.shop_rules().allowances.rough)
    assert lies.quilt is not None, "a sheet is made of a layout"
    size, overhang = top_size.size_of(order, lies.quilt), beyond(order, shop)
    measured = top_size.as_measured(order, lies.quilt).center is not None
    marked = marked_blocks(lies, unit=shop.unit)
    raw = size.grown(2 * lies.quilt.seam)
    return {
        "order": order.number,
        "title": order.title,
        "on": say.day(shop.today()),
        "size": say.size(size),
        "raw": say.size(raw),
        "is_measured": measured,
        "how": quilted_how(order),
        "overhang": say.length(overhang),
        "map": str(map_of(lies.quilt, marked)),
        "marked": [[each.name, each.melts, ", ".join(each.hard)] for each in marked.values()],
        "due_back": _due_back(order, say),
        "bill": shop.name,
        **_under(order, size, overhang, say),
    }


def _under(order: Order, size: Size, overhang: int, say: Saying) -> dict[str, Any]:
    """The back, the batting, and what all layers weigh."""
    shop = say.shop
    quilt = order.design.quilt
    assert quilt is not None
    offer = answer(order, shop, drawn=quilt).options[0]
    kinds = dict(Cloth.objects.values_list("name", "kind"))
    back = offer.backing[0] if offer.backing else None
    wad = offer.batting[0] if offer.batting else None
    sheet = size.grown(2 * overhang)
    padding = size.grown(2 * shop.shop_rules().allowances.batting_overhang)
    grams = weight_of(
        quilt, size, bag_of(order),
        backing=kinds.get(back.cloth, "cotton") if back else "cotton", batting=wad.cloth if wad else None,
    )  # fmt: skip
    return {
        "backing": f"{back.cloth}, {_panels(back)}" if back else "",
        "backing_size": say.size(sheet),
        "batting": wad.cloth if wad else "",
        "batting_size": say.size(padding),
        "weight": weight_in_words(grams, unit=shop.unit),
    }


def _panels(back: Any) -> str:
    return "in one piece" if back.panels == 1 else f"{back.panels} {WAYS[back.way]}"


def weight_in_words(grams: int, *, unit: str) -> str:
    """Return a weight to the quarter pound, or to the tenth of a kilogram, in the shop's units."""
    if unit == "in":
        quarters = round(grams * 4 / GRAMS_IN_A_POUND)
        whole, part = divmod(quarters, 4)
        return f"about {whole or ''}{('', '¼', '½', '¾')[part]} lb"
    return f"about {grams / 1000:.1f} kg"


def _due_back(order: Order, say: Saying) -> str:
    """The day it is expected, where it is under way to a quilter."""
    trips = order.trips.under_way().filter(outside__kind=Outside.Kind.QUILTER)
    trip = trips.first()
    return say.day(trip.expected_on) if trip else ""
