"""What stands on the papers of the door: what left with whom, and what still waits to be collected."""

from __future__ import annotations

from collections import Counter
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from orders.account import money
from orders.account.money import the_shop
from orders.account.proposed import ready_since
from orders.customer.handing_over import concerned
from orders.models import Consent, Incident, Order, Shirt

from .cover import cover_of
from .saying import Saying, in_words


def hand_over_facts(order: Order) -> dict[str, Any]:
    """Return what left: the quilt, every shirt by what became of it, and to whom it went."""
    shop = the_shop()
    say = Saying(shop)
    shirts = list(concerned(order))
    used = [each for each in shirts if each.state == Shirt.State.USED]
    back = [each for each in used if each.leftovers == Shirt.Leftovers.RETURNED]
    whole = [each for each in shirts if each.state == Shirt.State.RETURNED]
    given_up = [each for each in shirts if "discarded" in (each.state, each.leftovers)]
    consent = order.consents.filter(kind=Consent.Kind.DISCARD).order_by("-at").first()
    return {
        "order": order.number,
        "title": order.title,
        "on": say.day(_day(order.handed_over_at, shop.time_zone) or shop.today()),
        "has_left": order.handed_over_at is not None,
        "to": order.handed_to,
        "how": order.leaving,
        "concerned": len(shirts),
        "used": _counted(used),
        "back": _counted(back),
        "whole": _counted(whole),
        "given_up": _counted(given_up),
        "leave": f"{consent.said_by}, {say.day(_day(consent.at, shop.time_zone))}" if consent else "",
        "still": _counted([each for each in shirts if _is_still_here(each)]),
        "seen": [_seen(each, say) for each in Incident.objects.of(order).for_papers()],
        "cover": cover_of(order),
    }


def _counted(shirts: list[Shirt]) -> dict[str, Any]:
    garments = sum(each.garments for each in shirts)
    return {
        "count": garments,
        "words": in_words(garments),
        "numbers": ", ".join(str(each) for each in shirts),
    }


def _is_still_here(shirt: Shirt) -> bool:
    if shirt.state == Shirt.State.USED:
        return shirt.leftovers == Shirt.Leftovers.HERE
    return shirt.state in (Shirt.State.IN_WORK, Shirt.State.MISSING)


def _seen(incident: Incident, say: Saying) -> str:
    outcome = incident.get_outcome_display() if incident.outcome else "not settled yet"
    return f"{incident.name}: {incident.get_what_display().lower()}, {outcome}"


def unclaimed_facts(order: Order, *, collect_by: date, sent_how: str) -> dict[str, Any]:
    """Return how long a finished quilt has waited, every time its customer was told, and what is open."""
    shop = the_shop()
    say = Saying(shop)
    ready = ready_since(order, shop)
    told = list(order.messages.order_by("at", "pk"))
    agreed = order.quotes.agreed().first()
    owing = money.owing_of(order)
    return {
        "order": order.number,
        "title": order.title,
        "for": order.customer.name,
        "reach": order.customer.reach,
        "address": order.customer.address,
        "on": say.day(shop.today()),
        "ready": say.day(ready),
        "days": (shop.today() - ready).days if ready else None,
        "balance": say.money(owing.balance) if owing.balance else "",
        "storage": say.money(stored) if (stored := _storage_so_far(order)) else "",
        "told": [_contact(each, say, shop.time_zone) for each in told],
        "by_how": _by_how(told),
        "terms": [line for line in (agreed.terms if agreed else "").splitlines() if _is_said(line)],
        "collect_by": say.day(collect_by),
        "sent_how": sent_how,
    }


def _is_said(line: str) -> bool:
    """A gap that waits for the maker's own words is nothing that was agreed."""
    return bool(line.strip()) and not line.startswith("[")


def _contact(message: Any, say: Saying, zone: str) -> dict[str, str]:
    return {
        "day": say.day(_day(message.at, zone)),
        "to": message.to,
        "how": message.how,
        "words": message.words,
    }


def _by_how(told: list[Any]) -> str:
    count = Counter(each.how for each in told)
    total = sum(count.values())
    times = "once" if total == 1 else f"{total} times"
    return f"Told {times}: {', '.join(f'{number} {how}' for how, number in count.items())}"


def _storage_so_far(order: Order) -> int:
    """Return the storage that the owner has put on the account; what is only proposed is not owed."""
    rows = order.entries.standing().filter(key__startswith=f"proposed storage {order.pk} ")
    legs = [leg for entry in rows.prefetch_related("postings") for leg in entry.postings.all()]
    return sum(leg.minor for leg in legs if leg.out_of != "tax")


def _day(at: datetime | None, zone: str) -> date | None:
    return at.astimezone(ZoneInfo(zone)).date() if at else None
