"""A parcel that came in, opened with the camera on: how the box looked, and what was in it."""

from __future__ import annotations

from django.db import models
from django.utils import timezone

from .people import Person


class Opening(models.Model):
    """The box as it came, what the sender said was in it, and what was counted out of it."""

    class Box(models.TextChoices):
        WHOLE = "whole", "Whole"
        DENTED = "dented", "Dented"
        TORN = "torn", "Torn or opened"
        WET = "wet", "Wet"

    bag = models.OneToOneField("orders.Bag", models.PROTECT, related_name="opening")
    box = models.CharField(max_length=6, choices=Box.choices)
    said = models.PositiveSmallIntegerField(null=True, blank=True)
    found = models.PositiveSmallIntegerField()
    sealed = models.ForeignKey("orders.Photo", models.PROTECT, null=True, related_name="+")
    spread = models.ForeignKey("orders.Photo", models.PROTECT, null=True, related_name="+")
    film = models.CharField(max_length=160, blank=True)
    at = models.DateTimeField(default=timezone.now)
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")

    def __str__(self) -> str:
        return f"Parcel of {self.bag}"

    @property
    def differs(self) -> bool:
        """Say whether something else was counted than the sender said."""
        return self.said is not None and self.said != self.found
