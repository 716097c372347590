"""That a program in the background is at work: the moment it last said so."""

from __future__ import annotations

from datetime import timedelta

from django.db import models
from django.db.models.functions import Now

WORKER, TICK, CARRIER = "worker", "tick", "carrier"
LONG_GONE = timedelta(days=1)  # a machine that is no more leaves its name behind


class PulseQuerySet(models.QuerySet["Pulse"]):
    def within(self, age: timedelta) -> PulseQuerySet:
        """Those that beat not longer ago than this, by the one clock of the database."""
        return self.filter(at__gte=Now() - age)

    def of(self, kind: str) -> PulseQuerySet:
        """Those of all workers, say, whichever machine each is on."""
        return self.filter(name__startswith=f"{kind}@")

    def forget_old(self) -> None:
        self.filter(at__lt=Now() - LONG_GONE).delete()


class Pulse(models.Model):
    """`name` is the kind of program and where it runs, such as worker@loft."""

    name = models.CharField(max_length=200, unique=True)
    at = models.DateTimeField(db_default=Now())

    objects = PulseQuerySet.as_manager()

    def __str__(self) -> str:
        return self.name

    @staticmethod
    def beat(name: str) -> None:
        """Say that this program is at work."""
        if not Pulse.objects.filter(name=name).update(at=Now()):
            Pulse.objects.bulk_create([Pulse(name=name)], ignore_conflicts=True)
