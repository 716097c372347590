"""What is written of a customer, changed by hand."""

from __future__ import annotations

from typing import Any

from django.db import transaction

from orders.models import Customer, Event, Person


@transaction.atomic
def change(customer: Customer, *, seen: int, by: Person, **fields: Any) -> None:
    """Keep what was typed; the same again changes nothing. Of leave and days it is told which."""
    changed = [name for name, value in fields.items() if getattr(customer, name) != value]
    if not changed:
        return
    customer.change(seen=seen, **fields)
    told = {name: fields[name] for name in changed if name in ("may_show_pictures", "may_show_names")}
    day = fields["keep_quiet_until"] if "keep_quiet_until" in changed else None
    Event.objects.note("customer written", by=by, customer=customer.pk, fields=changed, day=day, **told)
