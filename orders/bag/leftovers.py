"""What remains of cut shirts, counted back bundle by bundle before it goes home."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.db import transaction

from orders.models import Event, Order, Person, Shirt

COUNTED = "leftovers counted"


@dataclass(frozen=True)
class Counted:
    """The last count of leftovers: which numbers were there, which were not, when and by whom."""

    event: Event
    there: tuple[str, ...]
    lacking: tuple[str, ...]


def due(order: Order) -> list[Shirt]:
    """Return the cut shirts whose leftovers are still here."""
    found = Shirt.objects.filter(
        bag__orders=order, state=Shirt.State.USED, leftovers=Shirt.Leftovers.HERE
    ).distinct()
    return list(found.order_by("number"))


@transaction.atomic
def count(order: Order, here: Iterable[int], *, by: Person) -> Counted:
    """Write down which bundles lie here, by the keys of their shirts, and which do not."""
    ticked = set(here)
    there = [str(shirt) for shirt in due(order) if shirt.pk in ticked]
    lacking = [str(shirt) for shirt in due(order) if shirt.pk not in ticked]
    event = Event.objects.note(COUNTED, by=by, order=order, there=there, lacking=lacking)
    return Counted(event, tuple(there), tuple(lacking))


def last_count(order: Order) -> Counted | None:
    """Return the newest count of an order's leftovers."""
    event = order.events.filter(what=COUNTED).select_related("by").newest_first().first()
    if event is None:
        return None
    return Counted(event, tuple(event.facts["there"]), tuple(event.facts["lacking"]))
