"""Papers for every receipt number: a payment, a tip, money given back, a bounce, a certificate."""

from __future__ import annotations

from typing import Any

from orders.account.money import the_shop
from orders.account.paid_together import all_of
from orders.models import Account, Entry, Paper, Posting

from .money import deposit_facts, towards
from .saying import Saying
from .who_pays import part_on_the_receipt

KINDS = {
    Entry.Kind.PAYMENT: Paper.Kind.DEPOSIT,
    Entry.Kind.TIP: Paper.Kind.TIP,
    Entry.Kind.REFUND: Paper.Kind.GIVEN_BACK,
    Entry.Kind.REVERSAL: Paper.Kind.TAKEN_BACK,
    Entry.Kind.BOUNCED: Paper.Kind.BOUNCED,
    Entry.Kind.CERTIFICATE: Paper.Kind.GIFT,
}


def entry_facts(entry: Entry) -> dict[str, Any]:
    """Return what the paper of one numbered entry says: which way the money went, and what that leaves."""
    parts = all_of(entry)
    facts = deposit_facts(entry) | {"kind": entry.kind} | _together(parts)
    if len(parts) == 1:
        facts |= part_on_the_receipt(entry)
    if entry.reverses is not None:
        facts["first"] = entry.reverses.receipt_number
        facts["was_tip"] = entry.reverses.kind == Entry.Kind.TIP
    if entry.of is not None:
        facts["first"] = entry.of.receipt_number
    if entry.certificate is not None:
        say, sold = Saying(the_shop()), entry.certificate
        facts |= {"certificate": sold.number, "bought_by": sold.bought_by, "given_to": sold.given_to}
        facts["certificate_sold"] = say.day(sold.sold_on)
    return facts


def _together(entries: tuple[Entry, ...]) -> dict[str, Any]:
    """What was paid in one sum: the whole of it, each receipt number, and which order it is for."""
    if len(entries) == 1:
        return {}
    say, numbers = Saying(the_shop()), [str(each.receipt_number) for each in entries]
    orders = [each.order for each in entries if each.order is not None]
    left = [Posting.objects.balance(Account.OWED, entry__order=each) for each in orders]
    return {
        "receipt": f"{', '.join(numbers[:-1])} and {numbers[-1]}",
        "amount": say.money(sum(each.minor for each in entries)),
        "balance": say.money(sum(left)),
        "is_paid": not any(left),
        **(towards(say, orders) if entries[0].kind == Entry.Kind.PAYMENT else {}),
        "parts": [
            {"receipt": each.receipt_number, "for": str(each.order), "amount": say.money(each.minor)}
            for each in entries
        ],
    }
