"""What happened: who, what, when; written in the same transaction as the change itself."""

from __future__ import annotations

from typing import Any

from django.db import models
from django.utils import timezone

from .people import Person


class EventQuerySet(models.QuerySet["Event"]):
    def note(self, what: str, *, by: Person | None, **about: Any) -> Event:
        """Write that something happened; `about` names the records (order=, shirt=, …) and plain facts."""
        order = about.pop("order", None)
        facts = {name: _plain(value) for name, value in about.items() if value is not None}
        return self.create(what=what, by=by, order=order, facts=facts)

    def at_the_bench(self) -> EventQuerySet:
        """What was done at the bench and can be taken back."""
        return self.filter(what="bench").select_related("order")

    def newest_first(self) -> EventQuerySet:
        return self.order_by("-at", "-pk")


class Event(models.Model):
    """One thing that happened. `by` is empty when a customer or the shop's own clock did it."""

    at = models.DateTimeField(default=timezone.now, db_index=True)
    by = models.ForeignKey("orders.Person", models.PROTECT, null=True, related_name="events")
    order = models.ForeignKey("orders.Order", models.PROTECT, null=True, related_name="events")
    what = models.CharField(max_length=60)
    facts = models.JSONField(default=dict)

    objects = EventQuerySet.as_manager()

    def __str__(self) -> str:
        return self.what


class Tap(models.Model):
    """A tap of the bench that arrived, perhaps after a while without a network; each is applied once.

    `client_id` was drawn at random where it was tapped; `deed` is what came of it, none where it was refused
    or where nothing was left to do.
    """

    client_id = models.CharField(max_length=64, primary_key=True)
    deed = models.ForeignKey(Event, models.PROTECT, null=True, related_name="+")
    arrived_at = models.DateTimeField(default=timezone.now)

    def __str__(self) -> str:
        return self.client_id


def _plain(value: Any) -> Any:
    if isinstance(value, models.Model):
        return str(value)
    return value if isinstance(value, str | int | bool | list | dict) else str(value)
