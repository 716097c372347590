"""Work charged by the hour on the quotes to come: hours so far, what one costs, the most it may be."""

from __future__ import annotations

from decimal import Decimal

from django.db import transaction

from orders.models import Event, ExtraLine, Order, Person
from planner.price import by_the_hour
from planner.units import Money, Rate


@transaction.atomic
def put(
    order: Order, words: str, *, minutes: int, an_hour: int, most: int | None, currency: str, by: Person
) -> ExtraLine:
    """Write so many hours on the quotes to come; the same words again are the same work, now longer."""
    Order.objects.select_for_update().get(pk=order.pk)
    limit = Money(most, currency) if most is not None else None
    made = by_the_hour(words, minutes, Rate(Decimal(an_hour), currency, "hour"), most=limit)
    now = {"minutes": minutes, "an_hour": an_hour, "most": most, "minor": made.amount.minor}
    line, is_new = order.extra_lines.get_or_create(
        words=words, kind=ExtraLine.Kind.ADDED, an_hour__isnull=False, defaults=now | {"added_by": by}
    )
    if is_new or any(getattr(line, name) != value for name, value in now.items()):
        for name, value in now.items():
            setattr(line, name, value)
        line.save()
        Event.objects.note("hours on the price", by=by, order=order, words=words, minutes=minutes)
    return line
