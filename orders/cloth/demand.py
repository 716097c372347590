"""Cloth that is wanted once more after something went wrong: spoken for again, so that it is on the list."""

from __future__ import annotations

from orders.bench.bench import bench_of
from orders.models import Cloth, Event, Order, Person, Piece, Reservation, Shop
from planner.materials import interfacing_size
from planner.units import Size


def ask_again(order: Order, piece: Piece, *, by: Person) -> None:
    """Speak for the interfacing of one piece again, off a roll of its kind that is wide enough.

    The length is what the panel takes on the roll, in ticks, rounded up to nothing: steps are for the till.
    """
    shop = Shop.objects.the()
    if shop is None:
        return
    given = shop.shop_rules().allowances
    lies = bench_of(order, rough=given.rough)
    cutting = next((each for item in lies.items for each in item.cuttings if each.piece == piece), None)
    if cutting is None or cutting.sizes.interfacing == "none":
        return
    size = interfacing_size(cutting.sizes.cut, over=given.interfacing_over)
    roll = _roll(cutting.sizes.interfacing, size)
    if roll is not None:
        length = (size.height if size.width <= roll.usable else size.width) * cutting.sizes.layers
        speak_for(roll, order, Reservation.AGAIN, length)
        Event.objects.note("cloth wanted again", by=by, order=order, cloth=roll.name, length=length)


def speak_for(cloth: Cloth, order: Order, role: str, length: int) -> None:
    """Add a length to what an order has spoken for in a role."""
    mine = Reservation.objects.select_for_update().filter(cloth=cloth, order=order, role=role)
    standing = mine.filter(cut_at=None, let_go_at=None).first()
    if standing is None:
        Reservation.objects.create(cloth=cloth, order=order, role=role, length=length)
    else:
        standing.length += length
        standing.save(update_fields=["length"])


def _roll(kind: str, size: Size) -> Cloth | None:
    narrow = min(size.width, size.height)
    rolls = Cloth.objects.in_use().filter(kind=kind, usable__gte=narrow).order_by("usable", "name")
    return rolls.first()
