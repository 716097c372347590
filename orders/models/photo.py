"""Photos: what they show, and where their files lie."""

from __future__ import annotations

from datetime import timedelta
from functools import reduce
from operator import or_
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone

SIZES = (1600, 800, 320)  # longer side of each rendition, in pixels
OF = ("shirt", "cloth", "order", "bag", "incident")
OF_ONE_THING = reduce(or_, (Q(**dict.fromkeys(other for other in OF if other != kind)) for kind in OF))


class PhotoQuerySet(models.QuerySet["Photo"]):
    def of(self, thing: models.Model | None) -> PhotoQuerySet:
        return self.filter(**place(thing))

    def with_things(self) -> PhotoQuerySet:
        """Fetch what each photo is of in the same query."""
        return self.select_related(*OF)

    def oldest_first(self) -> PhotoQuerySet:
        return self.order_by("received_at", "pk")


class Photo(models.Model):
    """One picture of one thing. Its files are named by the hash of their bytes and never overwritten.

    `taps` are what a person pointed at on the picture of a shirt, `colors` what was then read from it.
    """

    sha256 = models.CharField(max_length=64, db_index=True)
    sent_sha256 = models.CharField(max_length=64)
    client_id = models.CharField(max_length=64, null=True, unique=True)
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    is_ready = models.BooleanField(default=False)
    received_at = models.DateTimeField(default=timezone.now)
    received_by = models.ForeignKey("orders.Person", models.PROTECT, null=True, related_name="+")
    shirt = models.ForeignKey("orders.Shirt", models.PROTECT, null=True, related_name="photos")
    cloth = models.ForeignKey("orders.Cloth", models.PROTECT, null=True, related_name="photos")
    order = models.ForeignKey("orders.Order", models.PROTECT, null=True, related_name="photos")
    bag = models.ForeignKey("orders.Bag", models.PROTECT, null=True, related_name="photos")
    incident = models.ForeignKey("orders.Incident", models.PROTECT, null=True, related_name="photos")
    taps = models.JSONField(default=dict, blank=True)
    colors = models.JSONField(null=True, blank=True)

    objects = PhotoQuerySet.as_manager()

    class Meta:
        ordering = ["received_at", "pk"]
        # Few photos are of an order itself; in an index of all the others would hide them.
        indexes = [
            models.Index(
                fields=["order", "received_at"], condition=Q(order__isnull=False), name="photos_of_an_order"
            )
        ]
        constraints = [
            models.CheckConstraint(condition=Q(width__gt=0, height__gt=0), name="photo_has_a_size"),
            models.CheckConstraint(condition=OF_ONE_THING, name="photo_of_one_thing"),
            *(
                models.UniqueConstraint(fields=[kind, "sent_sha256"], name=f"photo_once_for_a_{kind}")
                for kind in OF
            ),
            models.UniqueConstraint(
                fields=["sent_sha256"],
                condition=Q(**dict.fromkeys(OF)),
                name="photo_once_for_nothing_yet",
            ),
        ]

    def __str__(self) -> str:
        return f"Photo {self.pk}"

    @property
    def thing(self) -> models.Model | None:
        """What the photo is of."""
        return next((getattr(self, kind) for kind in OF if getattr(self, f"{kind}_id")), None)

    @property
    def words(self) -> str:
        """Say what the picture shows, for those who do not see it; no name of a customer is in it."""
        if self.shirt:
            return f"Shirt {self.shirt}"
        elif self.cloth:
            return f"{self.cloth}, on the shelf"
        elif self.order:
            return f"{self.order.title}"
        elif self.incident_id:
            return "What was not right"
        return "The bag as it came in" if self.bag_id else "A photo"

    @property
    def is_awaited(self) -> bool:
        """Say whether its renditions may still come any moment."""
        return not self.is_ready and timezone.now() - self.received_at < timedelta(minutes=15)

    @property
    def file(self) -> Path:
        """The whole picture: upright, without metadata."""
        return photo_file(self.sha256)

    def rendition(self, size: int) -> Path:
        """The file whose longer side is at most `size` pixels."""
        return photo_file(self.sha256, size)

    def shape_at(self, size: int) -> tuple[int, int]:
        """Return width and height of a rendition, in pixels; nothing is ever enlarged."""
        longer = max(self.width, self.height)
        if longer <= size:
            return self.width, self.height
        return tuple(max(1, (side * size * 2 + longer) // (2 * longer)) for side in (self.width, self.height))  # type: ignore[return-value]


def photo_folder() -> Path:
    return settings.DATA_DIR / "photos"


def photo_file(sha256: str, size: int | None = None) -> Path:
    """Return where a picture lies; a whole one is named by the hash of its bytes."""
    rendition = f"-{size}" if size else ""
    return photo_folder() / sha256[:2] / f"{sha256}{rendition}.jpg"


def place(thing: models.Model | None) -> dict[str, Any]:
    """Return the fields that say what a photo is of."""
    fields: dict[str, Any] = dict.fromkeys(OF)
    if thing is not None:
        kind = thing._meta.model_name
        if kind not in OF:
            raise TypeError(f"A photo cannot be of a {kind}.")
        fields[kind] = thing
    return fields
