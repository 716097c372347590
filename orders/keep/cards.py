"""Customers as cards for any address book: vCard 4.0, RFC 6350.

Lines end in CRLF and are folded at 75 octets, as in the calendar; text is escaped as in RFC 6350, 3.4.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from orders.days.calendar_feed import CRLF, escaped, folded, shop_mark
from orders.models import Customer, Shop


def as_cards(shop: Shop, customers: Iterable[Customer]) -> str:
    """Return one card a customer; whoever was forgotten has none."""
    lines = (line for each in customers if each.forgotten_at is None for line in _card(shop, each))
    return "".join(f"{folded(line)}{CRLF}" for line in lines)


def _card(shop: Shop, customer: Customer) -> Iterator[str]:
    yield "BEGIN:VCARD"
    yield "VERSION:4.0"
    yield f"UID;VALUE=text:customer-{customer.pk}@{shop_mark(shop)}"
    yield f"FN:{escaped(customer.name)}"
    if customer.email:
        yield f"EMAIL:{escaped(customer.email)}"
    if customer.phone:
        yield f"TEL;VALUE=text:{escaped(customer.phone)}"
    if customer.address:  # as it was typed: which line is the town is not known
        yield f"ADR:;;{escaped(customer.address)};;;;"
    if customer.notes:
        yield f"NOTE:{escaped(customer.notes)}"
    yield "END:VCARD"
