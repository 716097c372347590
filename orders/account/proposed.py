"""What the owner's terms come to on one account: proposed as lines, none of them added alone.

The terms are those that were frozen with the agreed quote. Whether they hold is for local law.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

from django.db import transaction

from orders.account import adding
from orders.account.money import CannotPay, Owing, owing_of, the_shop
from orders.models import AskedPicture, Cut, Entry, Order, Person, Quote, Reservation, Shop
from planner.price import Keeps, Rounds, Storage, called_off, rounds_beyond, storage
from planner.units import Money


@dataclass(frozen=True)
class Proposal:
    """A line that may be added: `lowers` when it takes something off."""

    noun: str
    words: str
    why: str
    minor: int
    lowers: bool = False


def proposals(order: Order, quote: Quote | None, owing: Owing, shop: Shop) -> list[Proposal]:
    """Return what the terms of the agreed quote come to today, less what was added of each already."""
    if quote is None:
        return []
    told = [*_rounds(order, quote), *_storage(order, quote, shop), *_called_off(order, quote, owing)]
    return [each for each in told if each.minor > 0]


@transaction.atomic
def take(order: Order, noun: str, *, taxed: bool, key: str, by: Person | None) -> Entry:
    """Put a proposed line on the account; the same key again is the same line."""
    Order.objects.select_for_update().get(pk=order.pk)
    first = Entry.objects.filter(key=key, order=order).first()
    if first is not None:
        return first
    quote, owing = order.quotes.agreed().first(), owing_of(order)
    found = next((each for each in proposals(order, quote, owing, the_shop()) if each.noun == noun), None)
    if found is None:
        raise CannotPay("Nothing more is proposed there. Look at the account.")
    if found.lowers:
        return adding.credit(order, words=found.words, minor=found.minor, key=key, by=by)
    return adding.add(order, words=found.words, minor=found.minor, taxed=taxed, key=key, by=by)


def key_of(order: Order, noun: str, unique: str) -> str:
    """Return the key by which a proposed line is known as such."""
    return f"proposed {noun} {order.pk} {unique}"


def _added(order: Order, noun: str) -> int:
    """What was added of a proposal before and stands: the line itself, without tax put on it."""
    start = f"proposed {noun} {order.pk} "
    rows = order.entries.standing().filter(key__startswith=start).prefetch_related("postings")
    legs = [leg for entry in rows for leg in entry.postings.all()]
    return sum(leg.minor for leg in legs if leg.out_of != "tax")


def _rounds(order: Order, quote: Quote) -> Iterator[Proposal]:
    if terms := rounds_of(quote.settling, quote.currency):
        changes = max(AskedPicture.objects.filter(version__order=order).count() - 1, 0)
        due = rounds_beyond(terms, changes=changes)
        more = changes - terms.included
        words = f"{more} layout round{'s' if more != 1 else ''} beyond the {terms.included} in the price"
        why = f"The picture was changed and asked about {changes} times after the first."
        yield Proposal("rounds", words, why, due.minor - _added(order, "rounds"))


def _storage(order: Order, quote: Quote, shop: Shop) -> Iterator[Proposal]:
    ready = ready_since(order, shop)
    terms = storage_of(quote.settling, quote.currency)
    if terms is None or ready is None or order.handed_over_at is not None:
        return
    days = (shop.today() - ready).days
    due = storage(terms, ready=ready, on=shop.today())
    words = f"Storage, ready since {ready:%-d %B %Y}"
    why = f"Ready for {days} days; the first {terms.free} are free."
    if due == terms.most:
        why += " It is at its most and grows no further."
    yield Proposal("storage", words, why, due.minor - _added(order, "storage"))


def ready_since(order: Order, shop: Shop) -> date | None:
    """Return the day on which the last stage was done; None while one is open."""
    stages = list(order.stages.all())
    if not stages or any(stage.done_at is None for stage in stages):
        return None
    last = max(stage.done_at for stage in stages if stage.done_at)
    return last.astimezone(ZoneInfo(shop.time_zone)).date()


def _called_off(order: Order, quote: Quote, owing: Owing) -> Iterator[Proposal]:
    terms = keeps_of(quote.settling, quote.currency)
    if order.cancelled_at is None or not terms:
        return
    stage, before = stage_reached(order), _added(order, "calling-off")
    settled = called_off(
        terms,
        stage=stage,
        agreed=Money(owing.charged - owing.credited + before, quote.currency),
        paid=Money(owing.paid, quote.currency),
        materials=Money(quote.paid_out, quote.currency),
    )
    words = f"Called off, {WORDS[stage]}"
    why = f"{WHY[stage]} By your terms the rest of the price is no longer owed."
    minor = settled.credit.minor - before - owing.written_off
    yield Proposal("calling-off", words, why, minor, lowers=True)


WORDS = {
    "before cloth": "before cloth was bought",
    "cloth bought": "after cloth was bought",
    "cut": "after the first cut",
}
WHY = {
    "before cloth": "No cloth is spoken for and nothing is cut.",
    "cloth bought": "Cloth is spoken for or cut for it, and no shirt is cut.",
    "cut": "Shirts are cut for it.",
}


def stage_reached(order: Order) -> str:
    """Return how far the order had come, as the terms of calling off tell stages apart."""
    if Cut.objects.filter(approved__order=order).exists():
        return "cut"
    return "cloth bought" if Reservation.objects.filter(order=order).exists() else "before cloth"


def rounds_of(settling: dict[str, Any], currency: str) -> Rounds | None:
    """Read the terms of layout rounds; None where the owner set none."""
    said = settling.get("rounds")
    return Rounds(said["included"], Money(said["each"], currency)) if said else None


def storage_of(settling: dict[str, Any], currency: str) -> Storage | None:
    """Read the terms of storage; None where the owner set none."""
    said = settling.get("storage")
    if not said:
        return None
    return Storage(said["free"], Money(said["a_day"], currency), Money(said["most"], currency))


def keeps_of(settling: dict[str, Any], currency: str) -> dict[str, Keeps]:
    """Read what is kept at each stage of calling off; nothing where the owner set none."""
    return {
        stage: Keeps(Money(said["fee"], currency), Decimal(said["share"]), said["materials"])
        for stage, said in settling.get("called_off", {}).items()
    }
