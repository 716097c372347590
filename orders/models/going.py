"""A quilt on its way home by parcel: packed, handed to a carrier, arrived."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from django.db import models, transaction
from django.db.models import Q
from django.utils import timezone

from .event import Event
from .people import Person


class ParcelQuerySet(models.QuerySet["Parcel"]):
    def under_way(self) -> ParcelQuerySet:
        """Parcels that went and have not been heard of, the first to come first."""
        return self.filter(sent_on__isnull=False, arrived_on=None).select_related("order").order_by("sent_on")

    @transaction.atomic
    def pack(self, order: Any, *, by: Person, **packed: Any) -> Parcel:
        """Write down how it was packed; until it goes, what is said last counts."""
        parcel, is_new = self.select_for_update().get_or_create(order=order, defaults=packed | {"by": by})
        if not is_new and parcel.sent_on is None:
            for name, value in packed.items():
                setattr(parcel, name, value)
            parcel.save(update_fields=list(packed))
        Event.objects.note("parcel packed", by=by, order=order, carrier=parcel.carrier)
        return parcel


class Parcel(models.Model):
    """What goes in one box. `value` is insured, in minor units; `weight` is whole grams with the box."""

    order = models.OneToOneField("orders.Order", models.PROTECT, related_name="parcel")
    address = models.TextField()
    carrier = models.CharField(max_length=80)
    value = models.BigIntegerField()
    weight = models.PositiveIntegerField(null=True)
    transit_days = models.PositiveSmallIntegerField()
    box = models.ForeignKey("orders.Photo", models.SET_NULL, null=True, related_name="+")
    tracking = models.CharField(max_length=80, blank=True)
    packed_at = models.DateTimeField(default=timezone.now)
    sent_on = models.DateField(null=True)
    arrived_on = models.DateField(null=True)
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")

    objects = ParcelQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=~Q(address="") & ~Q(carrier=""), name="parcel_has_an_address"),
            models.CheckConstraint(condition=Q(value__gte=0), name="parcel_value_not_below_0"),
            models.CheckConstraint(
                condition=Q(arrived_on=None) | Q(arrived_on__gte=models.F("sent_on")),
                name="parcel_arrives_after_it_went",
            ),
        ]

    def __str__(self) -> str:
        return f"Parcel of {self.order}"

    def expected_on(self, sent: date) -> date:
        """Return the day it should arrive if it goes on a day; calendar days, as the carrier names them."""
        return sent + timedelta(days=self.transit_days)

    @property
    def expected(self) -> date | None:
        """The day it should arrive, once it went."""
        return self.expected_on(self.sent_on) if self.sent_on else None

    @transaction.atomic
    def track(self, tracking: str, *, by: Person) -> None:
        """Write down the carrier's number, or another one."""
        if self.tracking != tracking:
            before, self.tracking = self.tracking, tracking
            self.save(update_fields=["tracking"])
            Event.objects.note("parcel number", by=by, order=self.order, number=tracking, before=before)

    @transaction.atomic
    def send(self, on: date, *, by: Person) -> None:
        """It went to the carrier."""
        if self.sent_on is None:
            self.sent_on = on
            self.save(update_fields=["sent_on"])
            Event.objects.note("parcel sent", by=by, order=self.order, on=on)

    @transaction.atomic
    def arrive(self, on: date, *, by: Person) -> None:
        """It is there, as somebody heard or the carrier says; told twice, the first time stands."""
        now = Parcel.objects.select_for_update().get(pk=self.pk)
        if now.arrived_on is None and now.sent_on is not None:
            self.arrived_on = on
            self.save(update_fields=["arrived_on"])
            Event.objects.note("parcel arrived", by=by, order=self.order, on=on)
