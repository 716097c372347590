"""Who works for the shop from outside, and what is under way to them or from them."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from django.db import models, transaction
from django.db.models import F, Q

from .event import Event
from .people import Person

LONGEST_CLOSURES = 1000  # days looked at, so that a year of closures still ends


class OutsideQuerySet(models.QuerySet["Outside"]):
    def in_use(self) -> OutsideQuerySet:
        """Those that still work for the shop, quilters first."""
        return self.filter(left=False).order_by("kind", "name")


class Outside(models.Model):
    """A quilter or a supplier: how long they take, how long the way is, and when they are closed."""

    class Kind(models.TextChoices):
        QUILTER = "quilter", "Quilter"
        SUPPLIER = "supplier", "Supplier"

    kind = models.CharField(max_length=8, choices=Kind.choices)
    name = models.CharField(max_length=80, unique=True)
    reach = models.CharField(max_length=120, blank=True)
    lead_days = models.PositiveSmallIntegerField()
    transit_days = models.PositiveSmallIntegerField(default=0)
    closed = models.JSONField(default=list, blank=True)
    left = models.BooleanField(default=False)

    objects = OutsideQuerySet.as_manager()

    class Meta:
        constraints = [models.CheckConstraint(condition=~Q(name=""), name="outside_has_a_name")]

    def __str__(self) -> str:
        return self.name

    def is_closed(self, day: date) -> bool:
        """Say whether they do not work on a day."""
        return any(first <= day.isoformat() <= last for first, last in self.closed)

    def back_by(self, sent: date) -> date:
        """Return the day something comes back: there, the days they take without closures, and home.

        From a supplier only the way home counts, for an order needs no days to get there.
        """
        there = self.transit_days if self.kind == self.Kind.QUILTER else 0
        day, left = sent + timedelta(days=there), self.lead_days
        for _ in range(LONGEST_CLOSURES):
            if left == 0 and not self.is_closed(day):
                break
            left -= not self.is_closed(day) and left > 0
            day += timedelta(days=1)
        return day + timedelta(days=self.transit_days)


class TripQuerySet(models.QuerySet["Trip"]):
    def under_way(self) -> TripQuerySet:
        """What has not come back, the first to come first."""
        found = self.filter(back_on=None).select_related("order", "outside")
        return found.order_by("expected_on", "pk")

    @transaction.atomic
    def send(self, order: Any, *, outside: Outside, expected: date, by: Person, **sent: Any) -> Trip:
        """Write down that something is under way; the same thing sent twice is one trip."""
        before = self.filter(order=order, outside=outside, back_on=None, what=sent["what"]).first()
        if before is not None:
            return before
        trip = self.create(order=order, outside=outside, expected_on=expected, **sent)
        trip.hold_back()
        Event.objects.note("under way", by=by, order=order, to=outside, expected=expected, words=trip.what)
        return trip


class Trip(models.Model):
    """A quilt at the quilter's, or cloth on its way: `waits` is the stage that cannot begin before it."""

    order = models.ForeignKey("orders.Order", models.CASCADE, related_name="trips")
    outside = models.ForeignKey(Outside, models.PROTECT, related_name="trips")
    what = models.CharField(max_length=80)
    waits = models.CharField(max_length=20)
    sent_on = models.DateField()
    expected_on = models.DateField()
    back_on = models.DateField(null=True, blank=True)

    objects = TripQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(expected_on__gte=F("sent_on")), name="trip_comes_after_it_went"
            )
        ]

    def __str__(self) -> str:
        return f"{self.what}, {self.order}"

    def hold_back(self) -> None:
        """Let the stage that needs it wait for the latest thing still under way."""
        open_trips = Trip.objects.filter(order=self.order, waits=self.waits, back_on=None)
        latest = open_trips.aggregate(day=models.Max("expected_on"))["day"]
        self.order.stages.filter(kind=self.waits, done_at=None).update(waits_until=latest)

    @transaction.atomic
    def expect(self, day: date, *, by: Person) -> None:
        """Expect it on another day."""
        if self.back_on is None and self.expected_on != day:
            before, self.expected_on = self.expected_on, day
            self.save(update_fields=["expected_on"])
            self.hold_back()
            Event.objects.note("expected", by=by, order=self.order, words=self.what, day=day, before=before)

    @transaction.atomic
    def arrive(self, day: date, *, by: Person) -> None:
        """It is here; what waited for it may begin."""
        if self.back_on is None:
            self.back_on = day
            self.save(update_fields=["back_on"])
            self.hold_back()
            Event.objects.note("here", by=by, order=self.order, words=self.what, day=day)
