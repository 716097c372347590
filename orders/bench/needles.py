"""Pins and needles, counted out and counted back before a quilt is finished: none may leave in it."""

from __future__ import annotations

from dataclasses import dataclass

from django.db import transaction

from orders.models import Event, Incident, Order, Person

COUNTED = "pins and needles counted"


@dataclass(frozen=True)
class Count:
    """How many went out to this quilt, and how many came back."""

    needles_out: int
    needles_back: int
    pins_out: int
    pins_back: int

    @property
    def lacks(self) -> str:
        """Return what did not come back, in words; empty when nothing is missing."""
        needles, pins = self.needles_out - self.needles_back, self.pins_out - self.pins_back
        found = [
            f"{n} {word}{'' if n == 1 else 's'}" for n, word in ((needles, "needle"), (pins, "pin")) if n > 0
        ]
        return " and ".join(found)

    @property
    def is_too_many(self) -> bool:
        """Say whether more came back than went out: then one of the counts is wrong."""
        return self.needles_back > self.needles_out or self.pins_back > self.pins_out


@transaction.atomic
def count(order: Order, counted: Count, *, by: Person) -> Event:
    """Write a count down, whatever it says; the same count twice in a row is once."""
    Order.objects.select_for_update().get(pk=order.pk)
    before = last_count(order)
    if before is not None and before[1] == counted:
        return before[0]
    return Event.objects.note(COUNTED, by=by, order=order, **vars(counted))


def last_count(order: Order) -> tuple[Event, Count] | None:
    """Return the newest count of an order."""
    event = order.events.filter(what=COUNTED).select_related("by").newest_first().first()
    if event is None:
        return None
    names = ("needles_out", "needles_back", "pins_out", "pins_back")
    return event, Count(**{name: event.facts[name] for name in names})


def why_not_finished(order: Order) -> str:
    """Say what keeps a quilt from being finished; empty when every pin and needle is out of it."""
    if Incident.objects.filter(order=order, what=Incident.What.NEEDLE).exclude(all_found=True).exists():
        return f"A needle broke in {order}, and not all of it is found. Find it first."
    counted = last_count(order)
    if counted is None:
        return f"Count the pins and needles of {order} first: how many went out, how many came back."
    if counted[1].is_too_many:
        return f"More came back of {order} than went out. Count the pins and needles again."
    if counted[1].lacks:
        lacks = counted[1].lacks.capitalize()
        return f"{lacks} of {order} did not come back. Find what is missing, then count again."
    return ""
