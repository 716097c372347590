"""Papers for every receipt number: a payment, a tip, money given back, a bounce, a certificate."""

from __future__ import annotations

from typing import Any

from orders.account.money import the_shop
from orders.models import Entry, Paper

from .money import deposit_facts
from .saying import Saying

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
    facts = deposit_facts(entry) | {"kind": entry.kind}
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
