"""The card that is handed over on the day when the quilt itself follows later."""

from __future__ import annotations

from typing import Any

from orders.account.money import the_shop
from orders.models import Order

from .cover import cover_of
from .saying import long_day


def party_card_facts(order: Order) -> dict[str, Any]:
    """Return what stands on the card: for whom, from whom, the picture, the day it is planned for.

    No price, no count and no day that was not promised: the card is left lying about at a party.
    """
    shop = the_shop()
    promised = order.promised_for if order.promised_for and order.promised_for >= shop.today() else None
    return {
        "order": order.number,
        "title": order.title,
        "recipient": order.recipient,
        "giver": order.customer.name,
        "occasion": order.occasion,
        "memorial": order.memorial,
        "maker": shop.name,
        "planned_for": long_day(promised) if promised else "",
        "picture": cover_of(order),
    }
