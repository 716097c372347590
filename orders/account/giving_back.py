"""Money that goes back: a payment taken back, bounced, or given back in part to who paid it."""

from __future__ import annotations

from django.db import transaction
from django.db.models import Sum

from orders.account.money import BY_CERTIFICATE, MONEY, CannotPay, account_of, plain, reverse, the_shop
from orders.models import Account, Certificate, Entry, Order, Person, Posting
from orders.templatetags.shop import money as written
from planner.price import Leg, giving_back

WITH_RECEIPT = (Entry.Kind.PAYMENT, Entry.Kind.REFUND, Entry.Kind.TIP)
CAN_BE_TAKEN_BACK = (*WITH_RECEIPT, Entry.Kind.ADDED, Entry.Kind.CREDIT, Entry.Kind.WRITE_OFF)


@transaction.atomic
def take_back(entry: Entry, *, by: Person | None) -> Entry:
    """Undo what was written by an entry the other way round; twice is once."""
    if entry.kind not in CAN_BE_TAKEN_BACK:
        raise CannotPay("This cannot be taken back here. A price is replaced by a new quote.")
    _wait_for(entry)
    _refuse_what_went_back(entry)
    receipt = entry.kind in WITH_RECEIPT
    what = f"Receipt {entry.receipt_number}" if receipt else entry.words
    return reverse(entry, words=f"{what} taken back"[:160], by=by, receipt=receipt)


@transaction.atomic
def bounced(entry: Entry, *, by: Person | None) -> Entry:
    """Write that a payment did not come: it is owed again, with a receipt that says so; twice is once."""
    if entry.kind != Entry.Kind.PAYMENT or entry.certificate_id is not None or entry.method == "cash":
        raise CannotPay("Only a card, a check or a transfer can bounce.")
    _wait_for(entry)
    _refuse_what_went_back(entry)
    words = f"Receipt {entry.receipt_number} bounced"
    return reverse(entry, words=words, by=by, receipt=True, kind=Entry.Kind.BOUNCED)


@transaction.atomic
def give_back(entry: Entry, *, minor: int, method: str, key: str, by: Person | None) -> Entry:
    """Give money of a payment back to who paid it, never more than is left of that payment.

    What was paid with a gift certificate goes back onto it.
    """
    _wait_for(entry)
    paid = _leg_of(entry)
    if Entry.objects.filter(key=key).exists():
        back = 0
    else:
        back = went_back(entry)
        _refuse_more_than_is_left(entry, paid.minor - back, minor)
    way = BY_CERTIFICATE if entry.certificate_id else method
    (leg,) = giving_back(minor, paid, back=back)
    return Entry.objects.record(
        key=key,
        kind=Entry.Kind.REFUND,
        legs=plain([Leg(account_of(way), leg.into, leg.minor)]),
        by=by,
        receipt=True,
        order=entry.order,
        payer=entry.payer,
        method=way,
        certificate=entry.certificate,
        of=entry,
        day=the_shop().today(),
        words=f"Given back, of receipt {entry.receipt_number}",
        currency=entry.currency,
    )


def went_back(entry: Entry) -> int:
    """Return what was given back of a payment and stands."""
    rows = Posting.objects.filter(entry__of=entry, entry__reversed_by=None)
    return rows.aggregate(sum=Sum("minor"))["sum"] or 0


def _wait_for(entry: Entry) -> None:
    if entry.order_id is not None:
        Order.objects.select_for_update().get(pk=entry.order_id)


def _leg_of(entry: Entry) -> Leg:
    if entry.kind != Entry.Kind.PAYMENT:
        raise CannotPay("Only what was paid can be given back.")
    (leg,) = entry.legs()
    return Leg(*leg)


def _refuse_what_went_back(entry: Entry) -> None:
    if not hasattr(entry, "reversed_by") and entry.kind == Entry.Kind.PAYMENT and went_back(entry):
        raise CannotPay("Part of it was given back already. Take that back first.")


def _refuse_more_than_is_left(entry: Entry, left: int, minor: int) -> None:
    if Entry.objects.filter(reverses=entry).exists():
        raise CannotPay("This payment was taken back or bounced. There is nothing of it to give back.")
    if minor > left:
        said = written(left, the_shop())
        raise CannotPay(f"Only {said} is left of that payment. Give back that, or less.")


@transaction.atomic
def sell_certificate(
    *, minor: int, bought_by: str, given_to: str, method: str, key: str, by: Person | None
) -> Entry:
    """Take money for a gift certificate with the next number: it is owed, not earned.

    The method `before` is one that was sold before these books began.
    """
    first = Entry.objects.filter(key=key).first()
    if first is not None:
        return first
    shop = the_shop()
    certificate = Certificate.objects.create(
        number=shop.next_number("last_certificate_number"),
        bought_by=bought_by,
        given_to=given_to,
        sold_on=shop.today(),
        by=by,
    )
    into = Account.BEFORE if method == "before" else account_of(method)
    return Entry.objects.record(
        key=key,
        kind=Entry.Kind.CERTIFICATE,
        legs=[(Account.CERTIFICATES, into, minor)],
        by=by,
        receipt=into in MONEY,
        method=method,
        certificate=certificate,
        day=shop.today(),
        words=f"{certificate}, bought by {bought_by}"[:160],
        currency=shop.currency,
    )
