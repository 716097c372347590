"""A parcel comes in: the closed box on a picture first, then opened on camera and counted out."""

from __future__ import annotations

from django.db import transaction

from orders.models import Bag, Event, Opening, Person, Photo


@transaction.atomic
def open_parcel(
    bag: Bag,
    *,
    box: str,
    found: int,
    said: int | None = None,
    film: str = "",
    photos: tuple[Photo | None, Photo | None] = (None, None),
    by: Person,
) -> Opening:
    """Write down how a parcel came and what was counted out of it; opened twice, it was opened once.

    `photos` are of the closed box and of what was in it; what was counted becomes the count of the bag.
    """
    locked = Bag.objects.select_for_update().get(pk=bag.pk)
    before = Opening.objects.filter(bag=locked).first()
    if before is not None:
        return before
    sealed, spread = photos
    for photo in filter(None, photos):
        Photo.objects.of(None).filter(pk=photo.pk).update(bag=locked)
    opening = Opening.objects.create(
        bag=locked, box=box, said=said, found=found, film=film, sealed=sealed, spread=spread, by=by
    )
    if locked.count != found:
        locked.count_again(found, by=by)
    Event.objects.note("parcel opened", by=by, bag=locked.pk, box=box, said=said, found=found)
    return opening
