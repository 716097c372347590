"""Shirts that are asked about by themselves: whose yes each needs, and whether only for the day."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django.db import models, transaction
from django.utils import timezone

from .event import Event
from .people import Person, fold_name
from .shirt import Piece, Shirt
from .shop import Shop

A_NIGHT = timedelta(hours=6)


class AskedSingly(models.Model):
    """A shirt that no yes to a pile covers: every name on it says yes, to each piece by itself."""

    shirt = models.OneToOneField(Shirt, models.PROTECT, related_name="asked_singly")
    names = models.JSONField()
    for_the_day = models.BooleanField(default=False)
    why = models.CharField(max_length=200, blank=True)
    at = models.DateTimeField(default=timezone.now)
    set_by = models.ForeignKey(Person, models.PROTECT, null=True, blank=True, related_name="+")

    def __str__(self) -> str:
        return f"Shirt {self.shirt}: {', '.join(self.names)}"

    def lacks(self, said_by: Iterable[str]) -> list[str]:
        """Return whose yes is still missing, in the order in which they are named."""
        said = {fold_name(name) for name in said_by}
        return [name for name in self.names if fold_name(name) not in said]

    def keeps(self, *, names: list[str], for_the_day: bool, why: str) -> bool:
        """Say whether it is written like this already."""
        return (self.names, self.for_the_day, self.why) == (names, for_the_day, why)


def midnight() -> datetime:
    """Return when the shop's day ends: the moment at which a yes for the day lapses."""
    shop = Shop.objects.the()
    zone = ZoneInfo(shop.time_zone if shop else "UTC")
    tomorrow = timezone.now().astimezone(zone).date() + timedelta(days=1)
    return datetime.combine(tomorrow, time.min, zone)


class Look(models.Model):
    """Somebody looked at a piece before the blade: this shirt, this side, this square, as it was then."""

    piece = models.ForeignKey(Piece, models.PROTECT, related_name="looks")
    order = models.ForeignKey("orders.Order", models.PROTECT, related_name="looks")
    fingerprint = models.CharField(max_length=64)
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    on = models.DateField()
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["at", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["piece", "order", "fingerprint", "by", "on"], name="one_look_each_a_day"
            )
        ]

    def __str__(self) -> str:
        return f"{self.by} looked at {self.piece}"


def is_second(looks: Iterable[Look]) -> bool:
    """Say whether one of these is a second look: another person's, or the same one's after a night.

    A night is another day of the shop and at least six hours later (our own judgment).
    """
    found = list(looks)
    return any(_is_fresh(one, other) for one in found for other in found)


def _is_fresh(first: Look, second: Look) -> bool:
    if first.by_id != second.by_id:
        return True
    return first.on < second.on and second.at - first.at >= A_NIGHT


@transaction.atomic
def look_at(piece: Piece, order: Any, *, fingerprint: str, by: Person) -> Look:
    """Write that somebody looked at a piece as it is to be cut; twice on one day is once."""
    shop = Shop.objects.the()
    today = shop.today() if shop else timezone.now().date()
    look, is_new = Look.objects.get_or_create(
        piece=piece, order=order, fingerprint=fingerprint, by=by, on=today
    )
    if is_new:
        Event.objects.note("looked at", by=by, order=order, piece=piece.name)
    return look
