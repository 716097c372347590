"""The days on which the parts of the rest are due: named by the owner, frozen with the quote."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.db import transaction

from orders.models import Event, Order, Person, Quote
from planner.price import Portion, parts_in_turn
from planner.units import Money

MOST = 6


@dataclass(frozen=True)
class Due:
    """A part of an agreed price, what is open of it, and the day it is due; None is the yes itself."""

    day: date | None
    minor: int
    left: int

    def is_late(self, on: date) -> bool:
        """Say whether it should have been paid before this day."""
        return self.left > 0 and self.day is not None and self.day < on


def parts_due(order: Order) -> list[str]:
    """Return the days named for the parts of the rest, in ISO form; nothing where none were named."""
    return list(order.wish.get("parts_due", []))


@transaction.atomic
def name_days(order: Order, days: Sequence[date], *, by: Person) -> None:
    """Name the days for the next quote, as many as the rest has parts; none leaves it to the shop's terms."""
    now = Order.objects.select_for_update().get(pk=order.pk)
    named = sorted(each.isoformat() for each in set(days))
    if parts_due(now) != named:
        order.wish = {**now.wish, "parts_due": named}
        order.save(update_fields=["wish"])
        Event.objects.note("parts due", by=by, order=order, days=named)


def dues_of(quote: Quote, *, owed: int, paid: int) -> tuple[Due, ...]:
    """Return what is due by when, the deposit first; nothing where no days were named.

    What was paid goes to the oldest part. What was added or taken off since (`owed` in all) is in the last.
    """
    return _told(quote, [quote.deposit, *quote.instalments], owed=owed, paid=paid)


def dues_of_share(
    quote: Quote, portions: Sequence[Portion], mine: int, *, owed: int, paid: int
) -> tuple[Due, ...]:
    """Return what one of several payers has due by when: each part divided as they pay, to the cent.

    `owed` is her part of all, `paid` what she paid of it.
    """
    parts = [Money(each, quote.currency) for each in (quote.deposit, *quote.instalments)]
    hers = [each[mine].minor for each in parts_in_turn(parts, portions)]
    return _told(quote, hers, owed=owed, paid=paid)


def _told(quote: Quote, told_first: Sequence[int], *, owed: int, paid: int) -> tuple[Due, ...]:
    if not quote.dues:
        return ()
    days: list[date | None] = [None, *map(date.fromisoformat, quote.dues)]
    parts = _as_changed(told_first, owed)
    told, left = [], paid
    for day, minor in zip(days, parts, strict=False):
        met = min(left, minor)
        left -= met
        told.append(Due(day, minor, minor - met))
    return tuple(each for each in told if each.minor)


def _as_changed(told: Sequence[int], owed: int) -> list[int]:
    """The parts as they were told, changed from the last one back by what was added or taken off since."""
    parts = list(told)
    change = owed - sum(parts)
    for place in range(len(parts) - 1, -1, -1):
        now = max(parts[place] + change, 0)
        change -= now - parts[place]
        parts[place] = now
    return parts
