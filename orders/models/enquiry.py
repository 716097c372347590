"""A first message: what is wanted and by when, the band and the day given, and a place penciled in."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from django.db import models, transaction
from django.db.models import Q
from django.utils import timezone

from .event import Event
from .people import Person
from .versioned import Versioned

if TYPE_CHECKING:
    from .order import Order


class EnquiryQuerySet(models.QuerySet["Enquiry"]):
    def waiting(self) -> EnquiryQuerySet:
        """Enquiries that are neither an order yet nor declined."""
        return self.filter(order=None, declined_at=None)

    def penciled(self, *, on: date) -> EnquiryQuerySet:
        """Places that still count as load; they fall away by themselves."""
        return self.waiting().filter(penciled_until__gte=on)


class Enquiry(Versioned):
    """One enquiry. `low` and `high` are the price band told, in minor units."""

    name = models.CharField(max_length=120)
    reach = models.CharField(max_length=120)
    what = models.TextField(blank=True)
    shirts = models.PositiveSmallIntegerField(null=True, blank=True)
    width = models.BigIntegerField(null=True, blank=True)
    height = models.BigIntegerField(null=True, blank=True)
    needed_by = models.DateField(null=True, blank=True)
    low = models.BigIntegerField(null=True, blank=True)
    high = models.BigIntegerField(null=True, blank=True)
    fits_by = models.DateField(null=True, blank=True)
    not_before = models.DateField(null=True, blank=True)
    minutes = models.PositiveIntegerField(default=0)
    penciled_until = models.DateField(null=True, blank=True)
    came_at = models.DateTimeField(default=timezone.now)
    answered_at = models.DateTimeField(null=True, blank=True)
    declined_at = models.DateTimeField(null=True, blank=True)
    order = models.OneToOneField("orders.Order", models.PROTECT, null=True, related_name="enquiry")

    objects = EnquiryQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=~Q(name="") & ~Q(reach=""), name="enquiry_can_be_answered"),
            models.CheckConstraint(
                condition=Q(order=None) | Q(declined_at=None), name="enquiry_ordered_or_declined"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.name}, {self.needed_by or 'no day'}"

    @transaction.atomic
    def pencil_in(self, *, days: int, on: date, by: Person) -> None:
        """Hold a place for so many days."""
        self.penciled_until = on + timedelta(days=days)
        self.save(update_fields=["penciled_until"])
        Event.objects.note("penciled in", by=by, enquiry=self.pk, until=self.penciled_until)

    @transaction.atomic
    def decline(self, *, by: Person) -> None:
        """Say no, kindly; the place falls away."""
        if self.declined_at is None and self.order is None:
            self.declined_at, self.penciled_until = timezone.now(), None
            self.save(update_fields=["declined_at", "penciled_until"])
            Event.objects.note("enquiry declined", by=by, enquiry=self.pk)

    @transaction.atomic
    def turn_into_order(self, *, title: str, by: Person) -> Order:
        """Open the order this enquiry asked for; asking twice gives the same one."""
        from .customer import Customer
        from .order import Order

        now = Enquiry.objects.select_for_update().get(pk=self.pk)
        if now.order is not None:
            return now.order
        mail = self.reach if "@" in self.reach else ""
        customer = Customer.objects.create(name=self.name, email=mail, phone="" if mail else self.reach)
        order = Order.objects.open(
            title=title,
            customer=customer,
            needed_by=self.needed_by,
            width=self.width,
            height=self.height,
            by=by,
        )
        self.order = order
        self.save(update_fields=["order"])
        return order
