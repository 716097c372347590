"""What is owed on an order, what was paid and by whom; every sum comes from the postings alone."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol

from django.db import transaction

from orders.account.portions import portions_of, who_pays
from orders.models import Account, Certificate, Customer, Entry, Order, Person, Posting, Quote, Shop
from orders.templatetags.shop import money as written
from planner.price import Leg, charging, paying, portions_in_turn, turned
from planner.units import Money

SOLD = [Account.SALES, Account.TAX]
MONEY = [Account.CASH, Account.BANK]
PAID_INTO = [*MONEY, Account.CERTIFICATES]
CREDITED = [Account.CREDITS, Account.TAX_CREDIT]
METHODS = {"cash": "cash", "card": "card", "bank transfer": "bank transfer", "check": "check"}
BY_CERTIFICATE = "gift certificate"


class CannotPay(Exception):
    """A payment that does not fit the account; the message says why and what to do."""


class Moved(Protocol):
    """Something that went out of one account into another, in minor units."""

    @property
    def out_of(self) -> str: ...
    @property
    def into(self) -> str: ...
    @property
    def minor(self) -> int: ...


@dataclass(frozen=True)
class Owing:
    """An order's account in minor units. `deposit` is what was to be paid first.

    `charged` is what was agreed and added since, `credited` what was taken off since.
    """

    charged: int = 0
    paid: int = 0
    written_off: int = 0
    deposit: int = 0
    credited: int = 0

    @property
    def balance(self) -> int:
        """What is still due in all; below 0 it is to be given back."""
        return self.charged - self.credited - self.paid - self.written_off

    @property
    def to_give_back(self) -> int:
        """What was paid over what is owed."""
        return max(-self.balance, 0)

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
        credited=postings.moved([Account.OWED], CREDITED),
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
        moved(rows, [Account.OWED], CREDITED),
    )


def moved(postings: Iterable[Moved], out_of: Sequence[str], into: Sequence[str]) -> int:
    """Return what went from some accounts into others, less what went back."""
    rows = list(postings)
    there = sum(each.minor for each in rows if each.out_of in out_of and each.into in into)
    return there - sum(each.minor for each in rows if each.out_of in into and each.into in out_of)


def names_that_pay(order: Order) -> list[str]:
    """Return whose yes counts for the price: who pays, and the approver."""
    names = [payer.customer.name for payer in order.payers.select_related("customer").order_by("pk")]
    return list(dict.fromkeys([*names, order.approver]))


@dataclass(frozen=True)
class Share:
    """What one payer has to pay of an order, and has paid; minor units."""

    payer: Customer
    share: int
    paid: int

    @property
    def left(self) -> int:
        """What they still have to pay; below 0 they paid for another."""
        return self.share - self.paid


def shares_of(order: Order, owing: Owing) -> list[Share]:
    """Divide what is owed, to the cent: set amounts first, the rest by shares, by largest remainder.

    Over orders that were told together the cents are divided as if they were one.
    """
    payers = list(order.payers.select_related("customer").order_by("pk"))
    if not payers:
        return []
    currency = the_shop().currency
    dues = [Money(_to_pay(each), currency) for each in [*_owing_before(order), owing]]
    paid = Posting.objects.filter(entry__order=order).by_payer(PAID_INTO)
    parts = portions_in_turn(dues, portions_of(payers))[-1]
    return [
        Share(each.customer, part.minor, paid.get(each.customer_id, 0))
        for each, part in zip(payers, parts, strict=True)
    ]


def _to_pay(owing: Owing) -> int:
    return owing.charged - owing.credited - owing.written_off


def _owing_before(order: Order) -> list[Owing]:
    """The accounts of what was told together with an order and before it, while the same people pay."""
    agreed = order.quotes.agreed().first()
    if agreed is None or agreed.told_with_id is None:
        return []
    same = who_pays(order)
    told = [each for each in agreed.all_told() if each.pk < agreed.pk and each.replaced_by_id is None]
    return [owing_of(each.order, deposit=each.deposit) for each in told if who_pays(each.order) == same]


@transaction.atomic
def take_payment(
    order: Order,
    *,
    minor: int,
    payer: Customer | None,
    method: str,
    key: str,
    by: Person | None,
    certificate: Certificate | None = None,
) -> Entry:
    """Write a payment with the next receipt number; the same key again is the same payment."""
    Order.objects.select_for_update().get(pk=order.pk)
    owing = owing_of(order)
    is_new = not Entry.objects.filter(key=key).exists()
    if is_new:
        _refuse_what_is_not_owed(owing, minor)
        if certificate is not None:
            _refuse_more_than_is_on(certificate, minor)
    into = account_of(BY_CERTIFICATE if certificate else method)
    return Entry.objects.record(
        key=key,
        kind=Entry.Kind.PAYMENT,
        legs=plain(paying(minor, into, open_=owing.balance if is_new else minor)),
        by=by,
        receipt=True,
        order=order,
        payer=payer,
        method=BY_CERTIFICATE if certificate else method,
        certificate=certificate,
        day=the_shop().today(),
        words=f"Payment with {certificate}" if certificate else "Payment",
        currency=the_shop().currency,
    )


def account_of(method: str) -> str:
    """Return where money lies that came that way."""
    return {"cash": Account.CASH, BY_CERTIFICATE: Account.CERTIFICATES}.get(method, Account.BANK)


def plain(legs: Iterable[Leg]) -> list[tuple[str, str, int]]:
    """Return legs as an entry takes them."""
    return [(leg.out_of, leg.into, leg.minor) for leg in legs]


def _refuse_what_is_not_owed(owing: Owing, minor: int) -> None:
    if owing.charged == 0:
        raise CannotPay("Nothing is owed yet. Write down the yes to a quote first, then take the deposit.")
    if owing.balance <= 0:
        raise CannotPay("Everything is paid. There is nothing to take.")
    if minor > owing.balance:
        left = written(owing.balance, the_shop())
        raise CannotPay(f"Only {left} is open. Take that, or less, and give the rest back.")


def _refuse_more_than_is_on(certificate: Certificate, minor: int) -> None:
    on_it = Certificate.objects.left_on(certificate)
    if minor > on_it:
        left = written(on_it, the_shop())
        raise CannotPay(f"{certificate} has {left} left. Take that from it, and the rest another way.")


def reverse(
    entry: Entry, *, words: str, by: Person | None, receipt: bool = False, kind: str = Entry.Kind.REVERSAL
) -> Entry:
    """Write the entry that puts another one right: the same legs the other way round."""
    return Entry.objects.record(
        key=f"reverse {entry.pk}",
        kind=kind,
        legs=plain(turned([Leg(*leg) for leg in entry.legs()])),
        by=by,
        receipt=receipt,
        order=entry.order,
        payer=entry.payer,
        method=entry.method,
        day=the_shop().today(),
        words=words,
        currency=entry.currency,
        reverses=entry,
        certificate=entry.certificate,
    )


def charge(quote: Quote, *, by: Person | None) -> Entry | None:
    """Put an agreed quote on the account; what an older quote had charged is taken off first."""
    for before in quote.order.entries.charges().standing().exclude(key=_key(quote)):
        reverse(before, words=f"{before.words} replaced", by=by)
    legs = plain(charging(quote.net, quote.tax))
    if not legs:
        return None
    return Entry.objects.record(
        key=_key(quote),
        kind=Entry.Kind.CHARGE,
        legs=legs,
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
