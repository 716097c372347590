"""What the Account room shows of the ledger: each entry as a line, the payers' shares, what may be done."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from orders.account import giving_back, money, paid_together
from orders.account.proposed import Proposal, proposals
from orders.forms.ledger import AddedForm, CreditForm, GiveBackForm, ProposalForm, TipForm, WriteOffForm
from orders.models import Account, Entry, Order, Quote, Shop

WORDS = {
    Entry.Kind.REFUND: "Given back",
    Entry.Kind.BOUNCED: "Bounced",
    Entry.Kind.TIP: "Tip, apart from the price",
    Entry.Kind.WRITE_OFF: "Written off",
}


@dataclass(frozen=True)
class AccountLine:
    """One entry as it is shown; `minor` is what it changes in what is owed, below 0 when it lowers it."""

    entry: Entry
    minor: int
    words: str
    stands: bool
    left: int = 0
    back_form: GiveBackForm | None = None

    @property
    def size(self) -> int:
        """The amount without its sign; a tip, which changes nothing that is owed, has its own."""
        return abs(self.minor) or self.entry.minor

    @property
    def can_be_taken_back(self) -> bool:
        """Say whether an entry the other way round may be written."""
        return self.stands and self.entry.kind in giving_back.CAN_BE_TAKEN_BACK

    @property
    def in_one_sum(self) -> bool:
        """Say whether it is a part of one sum that was paid for several orders."""
        return paid_together.EACH in self.entry.key

    @property
    def can_bounce(self) -> bool:
        """Say whether it is a payment that the bank may send back."""
        is_payment = self.entry.kind == Entry.Kind.PAYMENT and self.entry.certificate_id is None
        return self.stands and is_payment and self.entry.method != "cash"


@dataclass(frozen=True)
class Proposed:
    """A proposed line with the form that adds it."""

    of: Proposal
    form: ProposalForm


def ledger_of(order: Order, quote: Quote | None, owing: money.Owing, shop: Shop) -> dict[str, Any]:
    """Return the lines, shares and forms of an order's account."""
    entries = list(order.entries.with_all())
    lines = list(_lines(entries, owing, shop))
    shares = money.shares_of(order, owing) if owing.charged else []
    shown: dict[str, Any] = {"lines": lines, "shares": shares if len(shares) > 1 else []}
    if quote is None:
        return shown
    told = proposals(order, quote, owing, shop)
    return shown | {
        "proposals": [Proposed(each, ProposalForm(noun=each.noun)) for each in told],
        "added_form": AddedForm(shop=shop),
        "credit_form": CreditForm(shop=shop),
        "write_off_form": WriteOffForm(),
        "tip_form": TipForm(order=order, shop=shop),
    }


def _lines(entries: list[Entry], owing: money.Owing, shop: Shop) -> Iterator[AccountLine]:
    back: dict[int, int] = {}
    for each in entries:
        if each.of_id is not None and not hasattr(each, "reversed_by"):
            back[each.of_id] = back.get(each.of_id, 0) + each.minor
    for each in entries:
        stands = not hasattr(each, "reversed_by")
        is_payment = each.kind == Entry.Kind.PAYMENT
        left = each.minor - back.get(each.pk, 0) if is_payment and stands else 0
        yield AccountLine(
            each, _on_owed(each), _words(each), stands, left, _back_form(each, left, owing, shop)
        )


def _back_form(entry: Entry, left: int, owing: money.Owing, shop: Shop) -> GiveBackForm | None:
    if left <= 0 or entry.receipt_number is None:
        return None
    most = min(left, owing.to_give_back)
    return GiveBackForm(receipt=entry.receipt_number, shop=shop, most=most, method=entry.method)


def _on_owed(entry: Entry) -> int:
    signs = [(each.into == Account.OWED) - (each.out_of == Account.OWED) for each in entry.postings.all()]
    return sum(sign * each.minor for sign, each in zip(signs, entry.postings.all(), strict=True))


def _words(entry: Entry) -> str:
    if entry.kind == Entry.Kind.PAYMENT:
        return f"{entry.method[:1].upper()}{entry.method[1:]}"
    return WORDS.get(Entry.Kind(entry.kind), entry.words)
