"""Where a shirt is now, and where it was: one row for each time it was put somewhere."""

from __future__ import annotations

from django.db import models
from django.utils import timezone

from .people import Person


class Place(models.TextChoices):
    """The places of a shop; `words` of a stay say which shelf or which cleaner."""

    SHELF = "shelf", "on the shelf"
    WASHER = "washer", "in the washer"
    AIRING = "airing", "airing"
    CLEANER = "cleaner", "at the cleaner’s"
    TABLE = "table", "on the table"
    WALL = "wall", "on the wall"
    FRAME = "frame", "on the frame"
    QUILTER = "quilter", "at the quilter"
    POSTED = "posted", "posted"


class StayQuerySet(models.QuerySet["Stay"]):
    def newest_first(self) -> StayQuerySet:
        return self.select_related("by").order_by("-at", "-pk")


class Stay(models.Model):
    """A shirt was put somewhere. What was written stays; the newest row is where it is."""

    shirt = models.ForeignKey("orders.Shirt", models.PROTECT, related_name="stays")
    place = models.CharField(max_length=8, choices=Place.choices)
    words = models.CharField(max_length=60, blank=True)
    at = models.DateTimeField(default=timezone.now)
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")

    objects = StayQuerySet.as_manager()

    class Meta:
        indexes = [models.Index(fields=["shirt", "at"])]
        constraints = [
            models.CheckConstraint(condition=models.Q(place__in=Place.values), name="stay_place_known")
        ]

    def __str__(self) -> str:
        return f"{self.shirt} {self.get_place_display()}"
