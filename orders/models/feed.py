"""The private address under which a phone reads the shop's calendar."""

from __future__ import annotations

import secrets

from django.db import models, transaction
from django.utils import timezone

from .event import Event
from .paper import hash_of
from .people import Person


class FeedQuerySet(models.QuerySet["Feed"]):
    def standing(self) -> FeedQuerySet:
        return self.filter(closed_at=None)

    def opened_by(self, token: str) -> Feed | None:
        """Return the feed a token opens; unknown and closed are the same None."""
        return self.standing().filter(token_hash=hash_of(token)).first()

    @transaction.atomic
    def give_out(self, *, by: Person) -> tuple[Feed, str]:
        """Make a new address and close the one before; the token is told once and kept as its hash."""
        self.close(by=by)
        token = secrets.token_urlsafe(32)
        Event.objects.note("calendar given out", by=by)
        return self.create(token_hash=hash_of(token), given_by=by), token

    @transaction.atomic
    def close(self, *, by: Person) -> int:
        """Close every address that stands; return how many did."""
        closed = self.standing().update(closed_at=timezone.now())
        if closed:
            Event.objects.note("calendar closed", by=by)
        return closed


class Feed(models.Model):
    """One address of the calendar: 256 random bits, hashed here."""

    token_hash = models.CharField(max_length=64, unique=True)
    given_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    given_at = models.DateTimeField(default=timezone.now)
    closed_at = models.DateTimeField(null=True, blank=True)

    objects = FeedQuerySet.as_manager()

    def __str__(self) -> str:
        return f"Calendar of {self.given_at:%Y-%m-%d}"
