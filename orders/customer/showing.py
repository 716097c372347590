"""May the finished quilt be posted or shown around? Off until somebody said yes, and never before its day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from orders.models import Customer, Order


@dataclass(frozen=True)
class Showing:
    """Whether pictures may be posted today, from which day at the earliest, and whether names may be read."""

    may: bool
    said_yes: bool
    not_before: date | None
    names: bool


def showing_of(customer: Customer, *, on: date) -> Showing:
    """Return what may be shown of a customer's quilts; the last day of any surprise of theirs counts."""
    secrets = Order.objects.filter(customer=customer).values_list("secret_until", flat=True)
    days = [day for day in (*secrets, customer.keep_quiet_until) if day is not None and day > on]
    said_yes = customer.may_show_pictures and customer.forgotten_at is None
    return Showing(
        may=said_yes and not days,
        said_yes=said_yes,
        not_before=max(days, default=None),
        names=said_yes and not days and customer.may_show_names,
    )
