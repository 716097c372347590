"""What stands on tags, bin labels and stop tags: numbers in plain figures, never a name."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django.conf import settings
from django.urls import reverse

from orders.account.money import the_shop
from orders.bag.finding import tag_of
from orders.bench import stopping
from orders.bench.bench import bench_of
from orders.models import Bag, HeatTool, Order, Piece, Shirt, Shop
from planner.care import Setting, setting, show_heat

from .saying import Saying, in_words

SHEETS = {"plain": "plain paper, cut apart", "labels": "a sheet of labels"}
MOST_SKIPPED = 29


def address_of(code: str) -> str:
    """Return what a phone's camera opens for a tag; nothing while the shop has no address in the network."""
    return f"{settings.ADDRESS}{reverse('find-code', args=[code])}" if settings.ADDRESS else ""


def tags_facts(bag: Bag, *, sheet: str, panels: bool, skipped: int = 0) -> dict[str, Any]:
    """Return the tags of a bag: each shirt, each panel too where wanted, and the label of its bin."""
    order = bag.orders.order_by("number").first()
    assert order is not None, "a bag is received for an order"
    shirts = bag.shirts.exclude(state=Shirt.State.STRUCK).prefetch_related("pieces").order_by("number")
    tags = [tag for shirt in shirts for tag in _of_shirt(order, shirt, panels=panels)]
    return {
        "order": order.number,
        "bag": bag.pk,
        "on": Saying(the_shop()).day(the_shop().today()),
        "sheet": sheet,
        "stock": the_shop().paper,
        "skipped": list(range(min(max(skipped, 0), MOST_SKIPPED))) if sheet == "labels" else [],
        "tags": tags,
        "bin": {
            "numbers": [str(each.number) for each in bag.orders.order_by("number")],
            "count": bag.count,
            "in_words": in_words(bag.count) if bag.count is not None else "",
            "url": address_of(str(order.number)),
        },
    }


def _of_shirt(order: Order, shirt: Shirt, *, panels: bool) -> Iterable[dict[str, Any]]:
    kept = [piece for piece in shirt.pieces.all() if piece.wanted != "out"]
    for of in (shirt, *(kept if panels else ())):
        code = tag_of(order, of)
        reasons = stopping.reasons_for(of)
        yield {
            "code": code,
            "url": address_of(code),
            "garments": shirt.garments if of is shirt else 1,
            "stop": bool(reasons),
        }


def stop_facts(order: Order) -> dict[str, Any]:
    """Return a stop tag for each piece of the quilt that bears less than 300 °F or is held."""
    shop = the_shop()
    lies = bench_of(order, rough=shop.shop_rules().allowances.rough)
    found = [
        _stop(order, each.piece, each.care.heat, reasons) | {"cover": each.care.cover}
        for each, reasons in stopping.stopping_in(lies, unit=_unit(shop))
    ]
    return {"order": order.number, "on": Saying(shop).day(shop.today()), "tags": found}


def _stop(order: Order, piece: Piece, heat: int, reasons: tuple[str, ...]) -> dict[str, Any]:
    code = tag_of(order, piece)
    return {
        "code": code,
        "url": address_of(code),
        "heat": _heat(heat, the_shop()),
        "photo": piece.photo_id,
        "reasons": [_without_limit(each, _heat(heat, the_shop())) for each in reasons],
        "settings": [
            f"{tool.name}: {found.words}" if isinstance(found, Setting) else f"{tool.name}: do not use it"
            for tool in (each.as_tool() for each in HeatTool.objects.in_use())
            for found in [setting(tool, heat)]
        ],
    }


def _without_limit(reason: str, heat: str) -> str:
    """Return a reason without the limit of heat, which stands large above it."""
    return reason.removeprefix("No heat. ").removeprefix(f"Never above {heat}. ")


def _heat(heat: int, shop: Shop) -> str:
    return show_heat(heat, unit=_unit(shop))


def _unit(shop: Shop) -> str:
    return "F" if shop.unit == "in" else "C"
