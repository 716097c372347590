"""Where a person is signed in: one row a device, which ends by itself, by a tap, or with the person."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import Any

from django.contrib.sessions.base_session import AbstractBaseSession
from django.db import models, transaction
from django.utils import timezone

from .event import Event
from .people import Person, fold_name
from .shop import Shop

LONGEST = {Person.Role.OWNER: timedelta(days=30), Person.Role.HELPER: timedelta(days=365)}
NOBODY_YET = timedelta(days=1)  # of a visitor at the door, who has no name


class SignInQuerySet(models.QuerySet["SignIn"]):
    def of(self, person: Person) -> SignInQuerySet:
        """Where a person is signed in now, the latest first."""
        return self.filter(person=person, expire_date__gt=timezone.now()).order_by("-seen_at", "session_key")

    def of_helpers(self) -> SignInQuerySet:
        """Where helpers are signed in now."""
        found = self.filter(person__role=Person.Role.HELPER, expire_date__gt=timezone.now())
        return found.select_related("person").order_by("person__name", "-seen_at", "session_key")

    def named(self, rows: Iterable[SignIn]) -> SignInQuerySet:
        """These rows, as far as they are still there."""
        return self.filter(pk__in=[each.pk for each in rows])

    def know(self, name: str, came_from: str) -> bool:
        """Say whether somebody of this name is signed in from there."""
        return self.filter(person__name_key=fold_name(name), came_from=came_from).exists()

    def over(self) -> SignInQuerySet:
        """Those whose time is over."""
        return self.filter(expire_date__lte=timezone.now())

    @transaction.atomic
    def end(self, *, by: Person) -> int:
        """Sign out there, all that are named; twice is once."""
        ended = list(self.select_for_update())
        self.model.objects.filter(pk__in=[each.pk for each in ended]).delete()
        for each in ended:
            Event.objects.note("signed out there", by=by, device=each.device)
        return len(ended)


class SignIn(AbstractBaseSession):
    """A session. The key is a secret of that browser, so pages name a row by its `mark`."""

    person = models.ForeignKey(Person, models.CASCADE, null=True, related_name="sign_ins")
    device = models.CharField(max_length=60, blank=True)
    came_from = models.CharField(max_length=45, blank=True)
    began_at = models.DateTimeField(default=timezone.now)
    seen_at = models.DateTimeField(default=timezone.now)

    objects = SignInQuerySet.as_manager()  # type: ignore[assignment,misc]

    class Meta:
        indexes = [models.Index(fields=["person", "came_from"], name="sign_in_known_place")]

    def __str__(self) -> str:
        return f"{self.person} on {self.device}"

    @classmethod
    def get_session_store_class(cls) -> Any:
        from orders.sign_ins import SessionStore

        return SessionStore

    @property
    def mark(self) -> str:
        """Return what stands for this row in a page; the key cannot be found from it."""
        return hashlib.sha256(self.session_key.encode()).hexdigest()[:24]

    def hold(self, *, now: datetime) -> None:
        """Let it last on from now: as long as the shop gives without use, and never past its longest."""
        self.seen_at = now
        self.expire_date = now + NOBODY_YET
        if self.person is not None:
            until = self.began_at + LONGEST[Person.Role(self.person.role)]
            self.expire_date = min(now + unused_for(self.person.role), until)


def unused_for(role: str) -> timedelta:
    """Return how long a device nobody uses stays signed in, as the shop has set it."""
    shop = Shop.objects.the() or Shop()
    days = shop.owner_stays_days if role == Person.Role.OWNER else shop.helper_stays_days
    return timedelta(days=days)


@transaction.atomic
def reckon_anew() -> None:
    """Bring every sign-in to the days that the shop now gives, counted from when it was last seen."""
    for each in SignIn.objects.exclude(person=None).select_related("person").select_for_update(of=("self",)):
        each.hold(now=each.seen_at)
        SignIn.objects.filter(pk=each.pk).update(expire_date=each.expire_date)
