"""The picture on the customer's own page: drawn for her eyes, with what changed since her yes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.urls import reverse

from orders.models import Order, Shop
from orders.quilt.quilt_scenes import ways_to_look
from orders.yes import yes_to_picture
from orders.yes.asked_picture import Asked
from orders.yes.picture_changes import changes
from orders.yes.yes_room import keeps_the_day
from orders.yes.yes_to_picture import Said
from planner.brief import read_quilt


def asked_of(order: Any) -> Asked | None:
    """Return the picture that an order from `order_opened_by` asks about, with no query."""
    if order.asked is None:
        return None
    return Asked(order.asked, read_quilt(order.asked_quilt), order.asked_shown or {}, order.answer_by)


def shown_to_her(order: Any, shop: Shop, query: Mapping[str, str]) -> dict[str, Any]:
    """Return the picture in the way she wants to see it, and all that is told with it."""
    asked = asked_of(order)
    if asked is None:
        return {}
    agreed = read_quilt(order.agreed_quilt) if order.agreed_quilt else None
    differ = changes(agreed, asked.quilt, unit=shop.unit) if agreed else ()
    chalked = tuple(block for each in differ for block in each.blocks)
    return {
        "asked": asked,
        "changes": differ,
        "keeps": keeps_the_day(order, order.answer_by, shop.today()),
        **ways_to_look(asked, query, unit=shop.unit, chalked=chalked, whole=in_one_photo(asked)),
    }


def in_one_photo(asked: Asked) -> str:
    """Return where her page finds the photo of all of the picture; nothing where no photo is in it.

    Her cookie opens it, and no other; one photo of all of it is half as heavy as one of each block.
    """
    return reverse("for-you-whole", args=[asked.number]) if asked.has_photos else ""


def asks_to_move(order: Any) -> bool:
    """Say whether she is still to be asked about moving blocks; it is never asked of a memorial."""
    return not (order.memorial or order.asked_to_move)


def say_yes(order: Order, number: int, *, name: str, may_move: bool | None = None) -> None:
    """Take the yes to the picture on the page; only the one who decides gives it."""
    yes_to_picture.say(order, number, Said(name, "page", may_move), by=None)


def wish(order: Order, number: int, *, name: str, words: str) -> None:
    """Keep what should change in the picture."""
    yes_to_picture.wish(order, number, words, Said(name, "page"), by=None)
