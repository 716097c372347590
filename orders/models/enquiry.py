"""A first message: what is wanted and by when, the band and the day given, and a place penciled in."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Any

from django.db import models, transaction
from django.db.models import Q
from django.utils import timezone

from planner.units import Size

from .customer import Customer
from .event import Event
from .order import Order
from .people import Person
from .versioned import Versioned


class EnquiryQuerySet(models.QuerySet["Enquiry"]):
    def waiting(self) -> EnquiryQuerySet:
        """Enquiries that are neither an order yet nor declined."""
        return self.known().filter(order=None, declined_at=None)

    def known(self) -> EnquiryQuerySet:
        """Enquiries of which it is still known who asked."""
        return self.filter(forgotten_at=None)

    def never_ordered(self, *, before: datetime) -> EnquiryQuerySet:
        """Those that came before a moment and never became an order, the oldest first."""
        return self.known().filter(order=None, came_at__lt=before).order_by("came_at", "pk")

    def penciled(self, *, on: date) -> EnquiryQuerySet:
        """Places that still count as load; they fall away by themselves."""
        return self.waiting().filter(penciled_until__gte=on)

    @transaction.atomic
    def write_down(self, *, by: Person, client_id: str | None = None, **asked: Any) -> Enquiry:
        """Keep what was asked; sent twice, it is the first one again."""
        before = self.filter(client_id=client_id).first() if client_id else None
        if before is not None:
            return before
        enquiry = self.create(client_id=client_id, **asked)
        Event.objects.note("enquiry", by=by, enquiry=enquiry.pk)
        return enquiry


class Enquiry(Versioned):
    """One enquiry. `low` and `high` are the price band told, in minor units."""

    name = models.CharField(max_length=120)
    reach = models.CharField(max_length=120)
    kind = models.CharField(max_length=8, choices=Order.Kind.choices, default=Order.Kind.QUILT)
    what = models.TextField(blank=True)
    occasion = models.CharField(max_length=120, blank=True)
    memorial = models.BooleanField(default=False)
    shirts = models.PositiveSmallIntegerField(null=True, blank=True)
    width = models.BigIntegerField(null=True, blank=True)
    height = models.BigIntegerField(null=True, blank=True)
    needed_by = models.DateField(null=True, blank=True)
    low = models.BigIntegerField(null=True, blank=True)
    high = models.BigIntegerField(null=True, blank=True)
    fits_by = models.DateField(null=True, blank=True)
    not_before = models.DateField(null=True, blank=True)
    here_by = models.DateField(null=True, blank=True)
    laid_width = models.BigIntegerField(null=True, blank=True)
    laid_height = models.BigIntegerField(null=True, blank=True)
    reasons = models.JSONField(default=list, blank=True)
    minutes = models.PositiveIntegerField(default=0)
    penciled_until = models.DateField(null=True, blank=True)
    came_at = models.DateTimeField(default=timezone.now)
    answered_at = models.DateTimeField(null=True, blank=True)
    declined_at = models.DateTimeField(null=True, blank=True)
    forgotten_at = models.DateTimeField(null=True, blank=True)
    client_id = models.CharField(max_length=64, null=True, unique=True, editable=False)
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

    @property
    def wanted_size(self) -> Size | None:
        """The size that was asked for."""
        return Size(self.width, self.height) if self.width and self.height else None

    @property
    def laid_size(self) -> Size | None:
        """The finished size it was reckoned for."""
        return Size(self.laid_width, self.laid_height) if self.laid_width and self.laid_height else None

    @transaction.atomic
    def answer(self, *, by: Person | None, **told: Any) -> None:
        """Keep the band and the days as they were reckoned, and when."""
        for name, value in told.items():
            setattr(self, name, value)
        self.answered_at = timezone.now()
        self.save(update_fields=[*told, "answered_at"])
        Event.objects.note("enquiry answered", by=by, enquiry=self.pk, fits_by=self.fits_by)

    @transaction.atomic
    def pencil_in(self, *, days: int, on: date, by: Person) -> None:
        """Hold a place for so many days."""
        self.penciled_until = on + timedelta(days=days)
        self.save(update_fields=["penciled_until"])
        Event.objects.note("penciled in", by=by, enquiry=self.pk, until=self.penciled_until)

    @transaction.atomic
    def rub_out(self, *, by: Person) -> None:
        """Let the penciled place go."""
        if self.penciled_until is not None:
            self.penciled_until = None
            self.save(update_fields=["penciled_until"])
            Event.objects.note("rubbed out", by=by, enquiry=self.pk)

    def is_penciled(self, *, on: date) -> bool:
        """Say whether a place is still held for it."""
        return self.order is None and self.penciled_until is not None and self.penciled_until >= on

    @transaction.atomic
    def take_up_again(self, *, by: Person) -> None:
        """Take a declining back."""
        if self.declined_at is not None:
            self.declined_at = None
            self.save(update_fields=["declined_at"])
            Event.objects.note("enquiry taken up again", by=by, enquiry=self.pk)

    @transaction.atomic
    def decline(self, *, by: Person) -> None:
        """Say no, kindly; the place falls away."""
        if self.declined_at is None and self.order is None:
            self.declined_at, self.penciled_until = timezone.now(), None
            self.save(update_fields=["declined_at", "penciled_until"])
            Event.objects.note("enquiry declined", by=by, enquiry=self.pk)

    @transaction.atomic
    def turn_into_order(self, *, title: str, by: Person, place: str = "") -> Order:
        """Open the order this enquiry asked for; asking twice gives the same one."""
        now = Enquiry.objects.select_for_update().get(pk=self.pk)
        if now.order is not None:
            return now.order
        mail = self.reach if "@" in self.reach else ""
        reached = {"email": mail, "phone": "" if mail else self.reach}
        customer = Customer.objects.filter(name=self.name, **reached).first()
        order = Order.objects.open(
            title=title,
            customer=customer or Customer.objects.create(name=self.name, **reached),
            kind=self.kind,
            place=place,
            occasion=self.occasion,
            memorial=self.memorial,
            needed_by=self.needed_by,
            width=self.width or self.laid_width,
            height=self.height or self.laid_height,
            by=by,
        )
        self.order, self.declined_at = order, None
        self.save(update_fields=["order", "declined_at"])
        return order
