"""What a paper says where several pay: each one's part on the quote, and on a receipt that payer's alone."""

from __future__ import annotations

from typing import Any

from orders.account.money import owing_of, shares_of, the_shop
from orders.account.portions import parts_of
from orders.models import Entry, Quote

from .saying import Saying


def parts_on_the_quote(quote: Quote) -> dict[str, Any]:
    """Return what each of several payers pays of all that a quote tells; nothing where one pays it all."""
    say = Saying(the_shop())
    sums: dict[str, int] = {}
    for told in quote.all_told():
        for each in parts_of(told):
            sums[each.payer] = sums.get(each.payer, 0) + each.minor
    return {"parts_of": [{"payer": payer, "part": say.money(minor)} for payer, minor in sums.items()]}


def part_on_the_receipt(entry: Entry) -> dict[str, Any]:
    """Return the part of whoever paid, and what is left of it; nothing where they pay alone."""
    if entry.order is None or entry.kind != Entry.Kind.PAYMENT:
        return {}
    shares = shares_of(entry.order, owing_of(entry.order))
    hers = next((each for each in shares if each.payer.pk == entry.payer_id), None)
    if hers is None or len(shares) < 2:
        return {}
    say = Saying(the_shop())
    left = {"left_of_part": say.money(hers.left)} if hers.left > 0 else {}
    return {"part": say.money(hers.share), **left}
