"""What stands on the papers about what went wrong, and about all that is in the shop's care."""

from __future__ import annotations

from typing import Any
from zoneinfo import ZoneInfo

from orders.account.money import the_shop
from orders.bag.panels import label_of
from orders.models import Incident
from orders.templatetags.clock import moment_clock
from orders.workroom import everything_in_care

from .saying import Saying


def damage_facts(incident: Incident) -> dict[str, Any]:
    """Return what happened to one piece, without whose hand it was."""
    shop = the_shop()
    say = Saying(shop)
    photo = incident.photos.first()
    return {
        "order": incident.order.number,
        "title": incident.order.title,
        "on": say.day(shop.today()),
        "incident": incident.pk,
        "what": incident.get_what_display(),
        "name": incident.name,
        "side": label_of(incident.piece.side) if incident.piece else "",
        "happened_on": say.day(incident.at.astimezone(ZoneInfo(shop.time_zone)).date()),
        "happened_at": str(moment_clock(incident.at, shop)),
        "setting": incident.setting.get("words", ""),
        "tool": incident.setting.get("tool", ""),
        "turned_to": incident.turned_to,
        "words": incident.words,
        "photo": photo.pk if photo else None,
        "told_on": say.day(incident.told_at.astimezone(ZoneInfo(shop.time_zone)).date())
        if incident.told_at
        else "",
        "told_how": incident.get_told_how_display().lower(),
        "told_words": incident.told_words,
        "answer": incident.answer,
        "outcome": incident.get_outcome_display() if incident.outcome else "",
    }


def in_care_facts() -> dict[str, Any]:
    """Return every bag in the shop, whose it is, how many, where it stands, and what is still to be paid."""
    shop = the_shop()
    say = Saying(shop)
    return {
        "on": say.day(shop.today()),
        "shop": shop.name,
        "bags": [
            {
                "owner": each.bag.customer.name,
                "reach": each.bag.customer.reach,
                "count": each.bag.count,
                "logged": each.logged,
                "place": each.bag.place,
                "places": [f"{count} {words}" for words, count in each.places],
                "orders": [
                    {"number": order.number, "title": order.title, "balance": _open(say, balance)}
                    for order, balance in each.priced
                ],
            }
            for each in everything_in_care()
        ],
    }


def _open(say: Saying, balance: int | None) -> str:
    return "no price agreed" if balance is None else f"{say.money(balance)} open" if balance else "all paid"
