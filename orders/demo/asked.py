"""Pictures that the demo asked about before its photographs were drawn: shown with them all the same."""

from __future__ import annotations

from django.db.models import QuerySet

from orders.models import AskedPicture, Bag, Cloth, Shop
from orders.quilt import drawn
from orders.yes import yes_to_picture


def photograph(bag: Bag) -> None:
    """Keep the pictures asked about for a bag anew, now that its shirts are photographed."""
    _keep_anew(AskedPicture.objects.filter(version__order__bags=bag))


def dress(cloth: Cloth) -> None:
    """Keep the pictures with a cloth anew, now that its swatch is there."""
    made_of = [
        kept.pk
        for kept in AskedPicture.objects.select_related("version__order")
        if cloth.name in kept.version.order.cloth.values()
    ]
    _keep_anew(AskedPicture.objects.filter(pk__in=made_of))


def _keep_anew(pictures: QuerySet[AskedPicture]) -> None:
    shop = Shop.objects.the()
    for kept in pictures.filter(version__replaced_at=None).select_related("version__order"):
        if shop is not None:
            shown = yes_to_picture.shown_of(drawn.room_of(kept.version.order, shop))
            AskedPicture.objects.filter(pk=kept.pk).update(shown=shown)
