"""Where shirts are: put somewhere with one tap, for one or for a whole pile, with its history."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.db import transaction

from orders.models import Event, Order, Person, Place, Shirt, Stay

HERE = (Shirt.State.IN_WORK, Shirt.State.USED, Shirt.State.MISSING)


@dataclass(frozen=True)
class Pile:
    """The shirts of an order that are in one place; `words` where nobody wrote down where they are."""

    place: str
    words: str
    shirts: tuple[Shirt, ...]


@transaction.atomic
def put(shirts: Iterable[Shirt], place: str, *, by: Person, words: str = "") -> list[Stay]:
    """Put shirts somewhere; one that is there already, in the same words, is not written twice."""
    if place not in Place.values:
        raise ValueError(f"“{place}” is no place of this shop.")
    locked = Shirt.objects.select_for_update().filter(pk__in=[each.pk for each in shirts], state__in=HERE)
    made = []
    for shirt in locked.order_by("bag", "number"):
        last = shirt.stays.newest_first().first()
        if last is None or (last.place, last.words) != (place, words):
            made.append(Stay.objects.create(shirt=shirt, place=place, words=words, by=by))
    Shirt.objects.filter(pk__in=[stay.shirt_id for stay in made]).update(place=place)
    if made:
        numbers = [stay.shirt.number for stay in made]
        bag = made[0].shirt.bag_id
        Event.objects.note("put", by=by, bag=bag, shirts=numbers, place=place, words=words or None)
    return made


def where(shirt: Shirt) -> Stay | None:
    """Return where a shirt is now, None where nobody wrote it down."""
    return shirt.stays.newest_first().first()


def piles(order: Order) -> list[Pile]:
    """Return the shirts of an order by place, in the order a shirt goes through the shop."""
    shirts = list(Shirt.objects.filter(bag__orders=order, state__in=HERE).order_by("number"))
    found = [
        Pile(place, words, tuple(each for each in shirts if each.place == place))
        for place, words in [("", "not written down"), *Place.choices]
    ]
    return [pile for pile in found if pile.shirts]
