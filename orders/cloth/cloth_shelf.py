"""Cloth comes to the list of the shelf, and what is known of it is written."""

from __future__ import annotations

from typing import Any

from django.db import transaction

from orders.cloth.cloth_looks import send_look
from orders.colors.colors import middle_color
from orders.models import Cloth, Event, Person, Photo

WHOLE = {"x": 10, "y": 10, "width": 80, "height": 80}  # a swatch fills its photo but for the edges


@transaction.atomic
def add_cloth(*, by: Person, photo: Photo | None = None, length: int | None = None, **facts: Any) -> Cloth:
    """Add a cloth to the list, with a first piece of so many ticks where one lies here."""
    cloth = Cloth.objects.create(**facts)
    if photo is not None:
        Photo.objects.of(None).filter(pk=photo.pk).update(cloth=cloth)
        _show(cloth, photo)
    Event.objects.note("cloth added", by=by, cloth=cloth.name)
    if length:
        cloth.put_on_shelf(length, by=by)
    return cloth


@transaction.atomic
def write_cloth(cloth: Cloth, *, seen: int, by: Person, photo: Photo | None = None, **facts: Any) -> None:
    """Write what is known of a cloth, unless somebody else did so meanwhile (Stale)."""
    shown_before = cloth.swatch_id, cloth.shows
    cloth.change(seen=seen, **facts)
    if photo is not None:
        _show(cloth, photo)
    elif (cloth.swatch_id, cloth.shows) != shown_before:
        send_look(cloth)
    Event.objects.note("cloth written", by=by, cloth=cloth.name)


def _show(cloth: Cloth, photo: Photo) -> None:
    """Make a photo the swatch; its color is taken where none was picked, its look described later."""
    cloth.swatch, cloth.look = photo, None
    cloth.ground = cloth.ground or middle_color(photo, WHOLE)
    cloth.save(update_fields=["swatch", "look", "ground"])
    send_look(cloth)
