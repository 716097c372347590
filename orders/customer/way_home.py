"""How a quilt leaves the shop, and what was made before that serves as a pattern for the next one."""

from __future__ import annotations

from django.db import transaction
from django.db.models import QuerySet

from orders.models import Event, Order, Parcel, Person, Shop

COPIED_WISHES = ("quilted", "theme", "way")
PRICED_WAYS = ("rush",)


class CannotCopy(Exception):
    """Why an order cannot be made like another; the text is for the maker."""


@transaction.atomic
def leave_by(order: Order, way: str, *, by: Person) -> None:
    """Let it leave another way: collected, brought, or sent."""
    if order.leaving != way and order.handed_over_at is None:
        before, order.leaving = order.leaving, way
        order.save(update_fields=["leaving"])
        Event.objects.note("leaves another way", by=by, order=order, way=way, before=before)


def parcel_of(order: Order) -> Parcel | None:
    """Return the parcel of an order, packed or gone."""
    return Parcel.objects.select_related("box").filter(order=order).first()


def late_parcels(shop: Shop) -> list[Parcel]:
    """Return the parcels that should have arrived and were not heard of."""
    today = shop.today()
    return [each for each in Parcel.objects.under_way() if each.expected and each.expected < today]


def made_before(order: Order) -> QuerySet[Order]:
    """Return what was made for this customer before, the last one first."""
    mine = Order.objects.filter(customer=order.customer_id, cancelled_at=None, number__lt=order.number)
    return mine.order_by("-number")


@transaction.atomic
def make_like(order: Order, pattern: Order, *, by: Person) -> None:
    """Copy cloth, quilting and terms of an order made before; prices, lines and rush are never copied."""
    now = Order.objects.select_for_update().get(pk=order.pk)
    if now.accepted_at is not None:
        raise CannotCopy("Its price is agreed already; change the quilt by hand.")
    if pattern.customer_id != now.customer_id:
        raise CannotCopy("Only what was made for the same customer can be copied.")
    wishes = {name: pattern.wish[name] for name in COPIED_WISHES if name in pattern.wish}
    if wishes.get("way") in PRICED_WAYS:
        del wishes["way"]
    kept = {name: value for name, value in now.wish.items() if name not in COPIED_WISHES}
    copied = {
        "cloth": pattern.cloth,
        "wish": kept | wishes,
        "leaving": pattern.leaving,
        "cushion_days": pattern.cushion_days,
    }
    order.change(seen=now.version, **copied)
    Event.objects.note("made like another", by=by, order=order, pattern=pattern.number)
