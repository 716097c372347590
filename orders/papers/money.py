"""What stands on the papers about money."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from orders.account.money import the_shop
from orders.account.proposed import keeps_of
from orders.models import Account, Entry, Order, Posting, Quote, Shop
from orders.planning import quilted_how
from planner.price import Keeps
from planner.units import INCH, MM

from .cover import cover_of
from .saying import Saying

AS_TOLD = re.compile(r"^(.+) across, (.+) down, before the first wash, in (\w+)$")
# How far a finished quilt may differ from its quote: trade handbook 1.5, 2 in; 5 cm where it is metric.
GIVE_OR_TAKE = {"in": 2 * INCH, "cm": 50 * MM}


def quote_facts(quote: Quote) -> dict[str, Any]:
    """Return what a quote's paper says, all of it from the frozen quote."""
    shop = the_shop()
    say, order = Saying(shop), quote.order
    rest = [say.money(each) for each in quote.instalments]
    return {
        "quote": quote.pk,
        "order": order.number,
        "version": quote.number,
        "title": order.title,
        "for": order.customer.name,
        "approver": order.approver,
        "on": say.day(_local_day(shop, quote.issued_at)),
        "until": say.day(quote.valid_until),
        "size": _finished(quote.size),
        "blocks": order.blocks.count(),
        "cloth": [f"{role} {name}" for role, name in sorted(order.cloth.items()) if name],
        "quilted": quilted_how(order),
        "lines": [_line(say, line) for line in quote.lines],
        "net": say.money(quote.net),
        "taxes": [_tax(say, each) for each in quote.taxes],
        "total": say.money(quote.total),
        "deposit": say.money(quote.deposit) if quote.deposit else "",
        "rest": rest,
        "planned_for": say.day(quote.planned_for),
        "needed_by": say.day(order.needed_by),
        "depends_on": quote.depends_on,
        "terms": [line for line in quote.terms.splitlines() if line.strip()],
        "give_or_take": say.length(GIVE_OR_TAKE[shop.unit]),
        **_settling(say, quote),
        "cover": cover_of(order),
        "infant": has_infant_clothes(order),
    }


def _finished(told: str) -> str:
    """Return a size as a sentence has it: `50 × 66 inches before the first wash`."""
    return AS_TOLD.sub(r"\1 × \2 \3 before the first wash", told)


def _settling(say: Saying, quote: Quote) -> dict[str, Any]:
    """The revision limit and the storage rule, as the owner had set them when the quote was issued."""
    rounds, stored = quote.settling.get("rounds"), quote.settling.get("storage")
    found: dict[str, Any] = {}
    if rounds:
        found["rounds"] = {"included": rounds["included"], "each": say.money(rounds["each"])}
    if stored:
        a_day, most = say.money(stored["a_day"]), say.money(stored["most"])
        found["storage"] = {"free": stored["free"], "a_day": a_day, "most": most}
    found["called_off"] = list(_called_off(say, quote))
    return found


STAGES = {
    "before cloth": "Called off before cloth is bought",
    "cloth bought": "Called off after cloth is bought",
    "cut": "Called off after the first cut",
}


def _called_off(say: Saying, quote: Quote) -> Iterator[str]:
    """What stays to be paid at each stage, where the owner had set it: never more than the price."""
    terms = keeps_of(quote.settling, quote.currency)
    for stage, words in STAGES.items():
        if stage in terms:
            yield f"{words}: {_kept(say, terms[stage])}."


def _kept(say: Saying, keeps: Keeps) -> str:
    share = format((keeps.share * 100).normalize(), "f")
    parts = [say.money(keeps.fee.minor)] if keeps.fee.minor else []
    parts += [f"{share} % of the price"] if 0 < keeps.share < 1 else []
    parts += ["what the cloth cost"] if keeps.materials else []
    if keeps.share == 1:
        return "the whole price stays due"
    return f"{' and '.join(parts)} {'stay' if len(parts) > 1 else 'stays'} due" if parts else "nothing is due"


def _line(say: Saying, line: dict[str, Any]) -> dict[str, Any]:
    return {"words": line["words"], "count": _count(line["count"]), "amount": say.money(line["amount"])}


def _count(count: int) -> str:
    return str(count) if count < 10_000 else ""  # an area in square ticks is no count to be read


def _tax(say: Saying, tax: dict[str, Any]) -> dict[str, str]:
    inside = " (in the price)" if tax.get("inclusive") else ""
    return {"words": f"{tax['words']}{inside}", "amount": say.money(tax["amount"])}


def deposit_facts(entry: Entry) -> dict[str, Any]:
    """Return what the receipt of one payment says."""
    shop = the_shop()
    say, order = Saying(shop), entry.order
    balance = Posting.objects.balance(Account.OWED, entry__order=order)
    return {
        "entry": entry.pk,
        "receipt": entry.receipt_number,
        "order": order.number if order else None,
        "title": order.title if order else "",
        "from": entry.payer.name if entry.payer else "",
        "on": say.day(entry.day),
        "amount": say.money(sum(leg[2] for leg in entry.legs())),
        "method": entry.method,
        "words": entry.words,
        "balance": say.money(balance),
        "is_paid": balance == 0,
        **(towards(say, [order]) if order and entry.kind == Entry.Kind.PAYMENT else {}),
    }


def towards(say: Saying, orders: Iterable[Order]) -> dict[str, Any]:
    """Return the agreed price that a payment goes towards, with its tax: of all that it was paid for."""
    quotes = [quote for quote in (each.quotes.agreed().first() for each in orders) if quote]
    if not quotes:
        return {}
    taxes: dict[str, int] = {}
    for each in (tax for quote in quotes for tax in quote.taxes):
        words = _tax(say, each)["words"]
        taxes[words] = taxes.get(words, 0) + each["amount"]
    return {
        "towards": say.money(sum(quote.total for quote in quotes)),
        "taxes": [f"{words}, {say.money(minor)}," for words, minor in taxes.items()],
    }


def receipt_facts(order: Order) -> dict[str, Any]:
    """Return what the final receipt says: the lines, the tax, every payment, and what is left."""
    shop = the_shop()
    say = Saying(shop)
    quote = order.quotes.filter(accepted_at__isnull=False).order_by("-number").first()
    balance = Posting.objects.balance(Account.OWED, entry__order=order)
    return {
        "order": order.number,
        "title": order.title,
        "for": order.customer.name,
        "on": say.day(shop.today()),
        "lines": [_line(say, line) for line in quote.lines] if quote else [],
        "taxes": [_tax(say, each) for each in quote.taxes] if quote else [],
        "total": say.money(quote.total) if quote else "",
        "payments": [_payment(say, entry) for entry in order.entries.besides_the_price()],
        "balance": say.money(balance),
        "is_paid": balance == 0,
        "handed_to": order.handed_to,
        "cover": cover_of(order),
    }


def _payment(say: Saying, entry: Entry) -> dict[str, Any]:
    into_owed = sum(minor if into == Account.OWED else -minor for _, into, minor in entry.legs())
    return {
        "day": say.day(entry.day),
        "words": entry.words,
        "method": entry.method,
        "receipt": entry.receipt_number or "",
        "amount": say.money(-into_owed),
    }


def has_infant_clothes(order: Order) -> bool:
    return any("infant" in flags for flags in order.bags.values_list("shirts__flags", flat=True) if flags)


def _local_day(shop: Shop, at: datetime) -> date:
    return at.astimezone(ZoneInfo(shop.time_zone)).date()
