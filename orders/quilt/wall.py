"""The blocks up on the wall: a photo of them is laid beside the agreed picture before rows are joined."""

from __future__ import annotations

from dataclasses import dataclass

from django.db import transaction

from orders.models import Event, Order, Person, Photo
from orders.quilt.quilt_looks import quilt_of
from orders.yes.picture_standing import ToPicture, to_picture

AS_AGREED, NOT_YET = "as agreed", "not yet"


class NothingToCompare(Exception):
    """There is no photo of the wall or no agreed picture; the message says what comes first."""


@dataclass(frozen=True)
class Wall:
    """The newest photo of the wall, and what was seen when it lay beside the agreed picture."""

    photo: Photo | None
    seen: Event | None

    @property
    def is_as_agreed(self) -> bool:
        """Say whether nothing of the wall is left to be put right, or none was photographed."""
        return self.photo is None or (self.seen is not None and self.seen.facts["verdict"] == AS_AGREED)


def wall_of(order: Order, stands: ToPicture) -> Wall:
    """Return the wall of an order; a look is good for its photo and the picture that was agreed then."""
    photo = _newest_photo(order)
    if photo is None or stands.agreed is None or stands.agreed.version is None:
        return Wall(photo, None)
    looks = order.events.filter(what="wall compared").newest_first()
    last = looks.filter(facts__photo=photo.pk, facts__version=stands.agreed.version.number).first()
    return Wall(photo, last)


def _newest_photo(order: Order) -> Photo | None:
    put_up = (
        order.events.filter(what="blocks on the wall").newest_first().values_list("facts__photo", flat=True)
    )
    there = Photo.objects.of(order).in_bulk([number for number in put_up if isinstance(number, int)])
    return next((there[number] for number in put_up if number in there), None)


@transaction.atomic
def put_up(order: Order, photo: Photo, *, by: Person) -> None:
    """Write down that a photo shows the wall; sent twice it is one photo."""
    Order.objects.select_for_update().get(pk=order.pk)
    if not order.events.filter(what="blocks on the wall", facts__photo=photo.pk).exists():
        Event.objects.note("blocks on the wall", by=by, order=order, photo=photo.pk)


@transaction.atomic
def compare(order: Order, photo: int, verdict: str, *, by: Person, why: str = "") -> Event:
    """Write down what was seen: as agreed, or not yet and why. The same of one photo twice is once."""
    Order.objects.select_for_update().get(pk=order.pk)
    stands = to_picture(order, quilt_of(order))
    wall = wall_of(order, stands)
    if wall.photo is None or wall.photo.pk != photo:
        raise NothingToCompare("A newer photo of the wall came in. Look at that one.")
    if stands.agreed is None or stands.agreed.version is None:
        raise NothingToCompare(f"No picture is agreed yet. Ask {order.approver} first.")
    if wall.seen is not None and (wall.seen.facts["verdict"], wall.seen.facts["why"]) == (verdict, why):
        return wall.seen
    facts = {"photo": photo, "version": stands.agreed.version.number, "verdict": verdict, "why": why}
    return Event.objects.note("wall compared", by=by, order=order, **facts)
