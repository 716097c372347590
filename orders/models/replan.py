"""A change of the calendar: why it was made, what the plan became through it, and how it is taken back."""

from __future__ import annotations

from typing import Any

from django.db import models
from django.utils import timezone

from .people import Person


class ReplanQuerySet(models.QuerySet["Replan"]):
    def latest_standing(self) -> Replan | None:
        """Return the last change that was not taken back."""
        return self.filter(undone_at=None).select_related("by").order_by("-pk").first()


class Replan(models.Model):
    """`deeds` are the records written, as [record, key] pairs; `moved` are quilts and days, old and new.

    `by` is empty where the shop's own history made the change.
    """

    at = models.DateTimeField(default=timezone.now)
    by = models.ForeignKey(Person, models.PROTECT, null=True, blank=True, related_name="+")
    why = models.CharField(max_length=200)
    deeds = models.JSONField(default=list)
    moved = models.JSONField(default=list)
    stages_moved = models.PositiveIntegerField(default=0)
    undone_at = models.DateTimeField(null=True, blank=True)

    objects = ReplanQuerySet.as_manager()

    def __str__(self) -> str:
        return self.why

    @property
    def later(self) -> list[Any]:
        """The quilts that are ready later than before."""
        return [each for each in self.moved if each["now"] > each["before"]]

    @property
    def sooner(self) -> list[Any]:
        """The quilts that are ready sooner than before."""
        return [each for each in self.moved if each["now"] < each["before"]]
