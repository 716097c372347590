"""What the receipt of a bag says of the yes to cut: who said it to which pieces, and who is still asked."""

from __future__ import annotations

from typing import Any
from zoneinfo import ZoneInfo

from orders.models import ApprovedPiece, AskedSingly, Bag, Consent, Order
from orders.models.blade import cut_sizes_of
from orders.yes.asking import asked_of, pieces_to_ask

from .saying import Saying


def yes_facts(bag: Bag, say: Saying) -> dict[str, Any] | None:
    """Return the yeses to the pieces of a bag, for the first order it serves; a repair has none."""
    order = bag.orders.order_by("pk").first()
    if order is None or order.kind == Order.Kind.REPAIR:
        return None
    pieces = [piece for piece in pieces_to_ask(order) if piece.shirt.bag_id == bag.pk]
    asked = asked_of(order, pieces, cut_sizes_of(order))
    singles = {each.shirt_id: each for each in AskedSingly.objects.filter(shirt__bag=bag)}
    usual = [each for each in asked if each.piece.shirt_id not in singles]
    return {
        "approver": order.approver,
        "said": _said([each.yes for each in asked if each.yes and not each.is_open], say),
        "open": ", ".join(each.piece.name for each in usual if each.is_open),
        "is_open": bool(usual) and all(each.is_open for each in usual),
        "singles": [_single(each) for each in sorted(singles.values(), key=lambda each: each.shirt.number)],
    }


def _said(yeses: list[ApprovedPiece], say: Saying) -> list[dict[str, Any]]:
    """Each yes with the pieces it is to, in the order in which they were said."""
    by_consent: dict[int, list[ApprovedPiece]] = {}
    for yes in sorted(yeses, key=lambda each: (each.consent.at, each.piece_id)):
        by_consent.setdefault(yes.consent_id, []).append(yes)
    return [
        {
            "who": group[0].said_by,
            "how": Consent.How(group[0].consent.how).label,
            "on": say.day(group[0].consent.at.astimezone(ZoneInfo(say.shop.time_zone)).date()),
            "pieces": ", ".join(each.piece.name for each in group),
            "for_the_day": group[0].until is not None,
        }
        for group in by_consent.values()
    ]


def _single(asked: AskedSingly) -> dict[str, Any]:
    return {
        "shirt": str(asked.shirt),
        "names": " and ".join(asked.names),
        "for_the_day": asked.for_the_day,
        "why": asked.why,
    }
