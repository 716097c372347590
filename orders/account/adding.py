"""Lines on an account after the price was agreed: more to pay, a credit, a tip, what is written off."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from django.db import transaction

from orders.account.money import CannotPay, Owing, account_of, owing_of, plain, the_shop
from orders.models import Account, Customer, Entry, Order, Person, Shop
from orders.templatetags.shop import money as written
from planner.price import Costs, Line, Pricing, charging, crediting, price
from planner.units import Money, Rate


@transaction.atomic
def add(order: Order, *, words: str, minor: int, taxed: bool, key: str, by: Person | None) -> Entry:
    """Put a line on the account of an agreed order, with tax on top if it is taxed here."""
    _agreed(order)
    priced = priced_later(minor, the_shop(), taxed=taxed)
    legs = charging(priced.net.minor, priced.tax.minor)
    return _record(order, Entry.Kind.ADDED, plain(legs), words=words, key=key, by=by)


def priced_later(minor: int, shop: Shop, *, taxed: bool) -> Pricing:
    """Return what a line added later comes to; it is rounded to cents, and no rush is put on it."""
    none, an_hour = Money(0, shop.currency), Rate(Decimal(0), shop.currency, "hour")
    terms = shop.shop_rules().terms
    bare = replace(terms, rush=Decimal(0), round_to=None, deposit=Decimal(0), instalments=1)
    costs = Costs(none, none, none, 0, an_hour, an_hour)
    line = Line.of("Added", Money(minor, shop.currency))
    return price([line], bare if taxed else replace(bare, taxes=()), costs)


@transaction.atomic
def credit(order: Order, *, words: str, minor: int, key: str, by: Person | None) -> Entry:
    """Take something off an agreed price as a line of its own, never more than is charged."""
    quote = order.quotes.agreed().first()
    owing = _agreed(order)
    if not Entry.objects.filter(key=key).exists() and minor > owing.charged - owing.credited:
        said = written(owing.charged - owing.credited, the_shop())
        raise CannotPay(f"Only {said} is charged. A credit cannot be more than that.")
    net, tax = (quote.net, quote.tax) if quote else (1, 0)
    legs = crediting(minor, net=net, tax=tax, currency=the_shop().currency)
    return _record(order, Entry.Kind.CREDIT, plain(legs), words=words, key=key, by=by)


@transaction.atomic
def write_off(order: Order, *, words: str, key: str, by: Person | None) -> Entry:
    """Stop asking for what is open; the account says so."""
    owing = _agreed(order)
    first = Entry.objects.filter(key=key).first()
    if first is not None:
        return first
    if owing.balance <= 0:
        raise CannotPay("Nothing is open. There is nothing to write off.")
    legs = [(Account.OWED, Account.WRITTEN_OFF, owing.balance)]
    return _record(order, Entry.Kind.WRITE_OFF, legs, words=words, key=key, by=by)


@transaction.atomic
def take_tip(
    order: Order, *, minor: int, payer: Customer | None, method: str, key: str, by: Person | None
) -> Entry:
    """Write a tip as a line of its own: it pays for nothing that is owed."""
    Order.objects.select_for_update().get(pk=order.pk)
    return Entry.objects.record(
        key=key,
        kind=Entry.Kind.TIP,
        legs=[(Account.TIPS, account_of(method), minor)],
        by=by,
        receipt=True,
        order=order,
        payer=payer,
        method=method,
        day=the_shop().today(),
        words="Tip",
        currency=the_shop().currency,
    )


def _agreed(order: Order) -> Owing:
    Order.objects.select_for_update().get(pk=order.pk)
    owing = owing_of(order)
    if owing.charged == 0:
        raise CannotPay("Nothing is agreed yet. Put it on the quote as a line.")
    return owing


def _record(
    order: Order, kind: str, legs: Sequence[tuple[str, str, int]], *, words: str, key: str, by: Person | None
) -> Entry:
    return Entry.objects.record(
        key=key,
        kind=kind,
        legs=list(legs),
        by=by,
        order=order,
        day=the_shop().today(),
        words=words,
        currency=the_shop().currency,
    )
