"""What is owed on an order, what was paid and by whom; every sum comes from the postings alone."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.db import transaction

from orders.models import Account, Customer, Entry, Order, Person, Posting, Quote, Shop
from orders.templatetags.shop import money as written

SOLD = [Account.SALES, Account.TAX]
PAID_INTO = [Account.CASH, Account.BANK]
METHODS = {"cash": "cash", "card": "card", "bank transfer": "bank transfer", "check": "check"}


class CannotPay(Exception):
    """A payment that does not fit the account; the message says why and what to do."""


@dataclass(frozen=True)
class Owing:
    """An order's account in minor units. `deposit` is what was to be paid first."""

    charged: int = 0
    paid: int = 0
    written_off: int = 0
    deposit: int = 0

    @property
    def balance(self) -> int:
        """What is still due in all."""
        return self.charged - self.paid - self.written_off

    @property
    def deposit_left(self) -> int:
        """What is missing of the deposit."""
        return min(max(self.deposit - self.paid, 0), max(self.balance, 0))

    @property
    def due(self) -> int:
        """What is due now: the deposit first, then the balance."""
        return self.deposit_left or max(self.balance, 0)

    @property
    def is_settled(self) -> bool:
        """Say whether a price was agreed and nothing of it is open."""
        return self.charged > 0 and self.balance == 0


def owing_of(order: Order, *, deposit: int | None = None) -> Owing:
    """Return the account of an order; `deposit` spares the look for the agreed quote."""
    postings = Posting.objects.filter(entry__order=order)
    sums = postings.aggregate(
        charged=postings.moved(SOLD, [Account.OWED]),
        paid=postings.moved([Account.OWED], PAID_INTO),
        written_off=postings.moved([Account.OWED], [Account.WRITTEN_OFF]),
    )
    if deposit is None:
        agreed = order.quotes.agreed().first()
        deposit = agreed.deposit if agreed else 0
    return Owing(**sums, deposit=deposit)


def owing_from(postings: Iterable[Posting], *, deposit: int) -> Owing:
    """Return the account from postings that were read already."""
    rows = list(postings)
    return Owing(
        moved(rows, SOLD, [Account.OWED]),
        moved(rows, [Account.OWED], PAID_INTO),
        moved(rows, [Account.OWED], [Account.WRITTEN_OFF]),
        deposit,
    )


def moved(postings: Iterable[Posting], out_of: Sequence[str], into: Sequence[str]) -> int:
    """Return what went from some accounts into others, less what went back."""
    rows = list(postings)
    there = sum(each.minor for each in rows if each.out_of in out_of and each.into in into)
    return there - sum(each.minor for each in rows if each.out_of in into and each.into in out_of)


def names_that_pay(order: Order) -> list[str]:
    """Return whose yes counts for the price: who pays, and the approver."""
    names = [payer.customer.name for payer in order.payers.select_related("customer").order_by("pk")]
    return list(dict.fromkeys([*names, order.approver]))


@transaction.atomic
def take_payment(
    order: Order, *, minor: int, payer: Customer | None, method: str, key: str, by: Person | None
) -> Entry:
    """Write a payment with the next receipt number; the same key again is the same payment."""
    Order.objects.select_for_update().get(pk=order.pk)
    if not Entry.objects.filter(key=key).exists():
        _refuse_what_is_not_owed(owing_of(order), minor)
    account = Account.CASH if method == "cash" else Account.BANK
    return Entry.objects.record(
        key=key,
        kind=Entry.Kind.PAYMENT,
        legs=[(Account.OWED, account, minor)],
        by=by,
        receipt=True,
        order=order,
        payer=payer,
        method=method,
        day=the_shop().today(),
        words="Payment",
        currency=the_shop().currency,
    )


def _refuse_what_is_not_owed(owing: Owing, minor: int) -> None:
    if owing.charged == 0:
        raise CannotPay("Nothing is owed yet. Write down the yes to a quote first, then take the deposit.")
    if owing.balance <= 0:
        raise CannotPay("Everything is paid. There is nothing to take.")
    if minor > owing.balance:
        left = written(owing.balance, the_shop())
        raise CannotPay(f"Only {left} is open. Take that, or less, and give the rest back.")


@transaction.atomic
def take_back(entry: Entry, *, by: Person | None) -> Entry:
    """Undo a payment by an entry the other way round, with a receipt number of its own; twice is once."""
    if entry.kind != Entry.Kind.PAYMENT:
        raise CannotPay("Only a payment can be taken back.")
    return reverse(entry, words=f"Receipt {entry.receipt_number} taken back", by=by, receipt=True)


def reverse(entry: Entry, *, words: str, by: Person | None, receipt: bool = False) -> Entry:
    """Write the entry that puts another one right: the same legs the other way round."""
    return Entry.objects.record(
        key=f"reverse {entry.pk}",
        kind=Entry.Kind.REVERSAL,
        legs=[(into, out_of, minor) for out_of, into, minor in entry.legs()],
        by=by,
        receipt=receipt,
        order=entry.order,
        payer=entry.payer,
        method=entry.method,
        day=the_shop().today(),
        words=words,
        currency=entry.currency,
        reverses=entry,
    )


def charge(quote: Quote, *, by: Person | None) -> Entry | None:
    """Put an agreed quote on the account; what an older quote had charged is taken off first."""
    for before in quote.order.entries.charges().standing().exclude(key=_key(quote)):
        reverse(before, words=f"{before.words} replaced", by=by)
    legs = [(Account.SALES, Account.OWED, quote.net), (Account.TAX, Account.OWED, quote.tax)]
    if not any(minor for _, _, minor in legs):
        return None
    return Entry.objects.record(
        key=_key(quote),
        kind=Entry.Kind.CHARGE,
        legs=[leg for leg in legs if leg[2]],
        by=by,
        order=quote.order,
        day=the_shop().today(),
        words=f"Quote {quote.number}",
        currency=quote.currency,
    )


def _key(quote: Quote) -> str:
    return f"quote {quote.pk}"


def the_shop() -> Shop:
    shop = Shop.objects.the()
    assert shop is not None, "money is only taken in a shop that is set up"
    return shop
