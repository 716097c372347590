"""One sum paid for all that was told together: a part of it on each account, written and undone as one.

Entries written by one form share its key, each with the number of its order behind it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from django.db import transaction

from orders.account import giving_back, told_together
from orders.account.money import CannotPay, Owing, account_of, owing_of, plain, the_shop
from orders.models import Customer, Entry, EntryConflict, Order, Person, Quote
from orders.templatetags.shop import money as written
from planner.price import paying, split
from planner.units import Money

EACH = " together "


def agreed_with(quote: Quote | None) -> list[Quote]:
    """Return the agreed prices told together with this one, it among them; none where it is alone."""
    if quote is None or not quote.together:
        return []
    stand = [each for each in quote.all_told() if each.accepted_at and each.replaced_by_id is None]
    return stand if len(stand) > 1 else []


def payers_of(quotes: Sequence[Quote]) -> dict[str, Customer]:
    """Return who pays for all of them, by the customer's number as a form has it."""
    lists = [
        {str(payer.customer_id): payer.customer for payer in each.order.payers.select_related("customer")}
        for each in quotes
    ]
    return {number: who for number, who in lists[0].items() if all(number in each for each in lists)}


def owing_together(quotes: Iterable[Quote]) -> list[Owing]:
    """Return the account of each."""
    return [owing_of(each.order, deposit=each.deposit) for each in quotes]


def parts_of(minor: int, owings: Sequence[Owing], *, currency: str) -> list[int]:
    """Divide a sum over accounts: over what is missing of the deposits first, then over what else is open.

    By largest remainder, to the minor unit, never more than is open on any.
    """
    first = [each.deposit_left for each in owings]
    rest = [max(each.balance, 0) - now for each, now in zip(owings, first, strict=True)]
    now = min(minor, sum(first))
    parts = [_split(now, first, currency), _split(minor - now, rest, currency)]
    return [sum(each) for each in zip(*parts, strict=True)]


def _split(minor: int, weights: Sequence[int], currency: str) -> list[int]:
    if minor == 0:
        return [0] * len(weights)
    return [each.minor for each in split(Money(minor, currency), weights)]


@transaction.atomic
def take(
    order: Order, *, minor: int, payer: Customer, method: str, key: str, by: Person | None
) -> tuple[Entry, ...]:
    """Write one sum as a payment on each account it pays; the same key again is the same payment."""
    quotes = agreed_with(order.quotes.agreed().first())
    told_together.lock(each.order for each in quotes or ())
    before = tuple(Entry.objects.filter(key__startswith=f"{key}{EACH}").order_by("pk"))
    if before:
        return _same(before, minor=minor, payer=payer, method=method)
    if not quotes:
        raise CannotPay("Nothing was told together with this. Take the payment for it alone.")
    owings = owing_together(quotes)
    _refuse_what_is_not_open(sum(max(each.balance, 0) for each in owings), minor)
    parts = parts_of(minor, owings, currency=the_shop().currency)
    return tuple(
        _write(each.order, part, owing, payer=payer, method=method, key=key, by=by)
        for each, part, owing in zip(quotes, parts, owings, strict=True)
        if part
    )


def _write(
    order: Order, minor: int, owing: Owing, *, payer: Customer, method: str, key: str, by: Person | None
) -> Entry:
    shop = the_shop()
    return Entry.objects.record(
        key=f"{key}{EACH}{order.number}",
        kind=Entry.Kind.PAYMENT,
        legs=plain(paying(minor, account_of(method), open_=owing.balance)),
        by=by,
        receipt=True,
        order=order,
        payer=payer,
        method=method,
        day=shop.today(),
        words="Payment, in one sum for all told together",
        currency=shop.currency,
    )


def _same(before: tuple[Entry, ...], *, minor: int, payer: Customer, method: str) -> tuple[Entry, ...]:
    told = {(each.payer_id, each.method) for each in before}
    if sum(each.minor for each in before) != minor or told != {(payer.pk, method)}:
        raise EntryConflict("This was already sent with other figures. Open the account and look.")
    return before


def _refuse_what_is_not_open(open_: int, minor: int) -> None:
    if open_ <= 0:
        raise CannotPay("Everything told together is paid. There is nothing to take.")
    if minor > open_:
        left = written(open_, the_shop())
        raise CannotPay(f"Only {left} is open over all of them. Take that, or less.")


def all_of(entry: Entry) -> tuple[Entry, ...]:
    """Return the payments that came in one sum with this one, it among them; alone it is all."""
    if EACH not in entry.key:
        return (entry,)
    whole = entry.key.rpartition(EACH)[0] + EACH
    found = Entry.objects.filter(key__startswith=whole).select_related("order", "payer")
    return tuple(found.order_by("pk"))


@transaction.atomic
def take_back(entry: Entry, *, by: Person | None) -> tuple[Entry, ...]:
    """Undo an entry, and all that came in one sum with it; twice is once."""
    parts = _held(entry)
    return tuple(giving_back.take_back(each, by=by) for each in parts)


@transaction.atomic
def bounced(entry: Entry, *, by: Person | None) -> tuple[Entry, ...]:
    """Write that a payment did not come, nor what came in one sum with it; twice is once."""
    parts = _held(entry)
    return tuple(giving_back.bounced(each, by=by) for each in parts)


def _held(entry: Entry) -> tuple[Entry, ...]:
    parts = all_of(entry)
    told_together.lock(each.order for each in parts if each.order is not None)
    return parts
