"""What a quote's paper says of what it is told together with, of the days of its parts, of who pays what."""

from __future__ import annotations

from datetime import date
from typing import Any

from orders.account.money import the_shop
from orders.models import Quote

from .money import quote_facts
from .saying import Saying
from .who_pays import parts_on_the_quote


def as_one_facts(quote: Quote) -> dict[str, Any]:
    """Return the facts of each further order, what all come to, the days of the parts, and who pays what."""
    say = Saying(the_shop())
    facts: dict[str, Any] = {"dues": [say.day(date.fromisoformat(each)) for each in quote.dues]}
    facts |= parts_on_the_quote(quote)
    if not quote.together:
        return facts | {"rest": _with_days(facts["dues"], [say.money(each) for each in quote.instalments])}
    parts = [each["instalments"] for each in quote.together]
    rest = [sum(column) for column in zip(*(each for each in parts if each), strict=True)]
    return facts | {
        "further": [quote_facts(each) for each in quote.all_told()[1:]],
        "total_of_all": say.money(quote.total_of_all),
        "deposit": say.money(quote.deposit_of_all) if quote.deposit_of_all else "",
        "rest": _with_days(facts["dues"], [say.money(each) for each in rest]),
    }


def _with_days(days: list[str], parts: list[str]) -> list[str]:
    """Each part of the rest with the day it is due, where days were named."""
    if len(days) != len(parts):
        return parts
    return [f"{part} on {day}" for part, day in zip(parts, days, strict=True)]
