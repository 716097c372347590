"""One thing to make, from one or more bags, for a day that is wanted."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.db import models, transaction
from django.db.models import Q
from django.utils import timezone

from .event import Event
from .figures import FiguresQuerySet
from .people import Person
from .seen import SeenAsQuilts
from .shop import Shop
from .versioned import Versioned


class OrderQuerySet(SeenAsQuilts, FiguresQuerySet):  # type: ignore[override]  # as_manager is typed per class
    @transaction.atomic
    def open(self, *, title: str, customer: Any, by: Person, **wishes: Any) -> Order:
        """Open an order with the next number."""
        order = self.create(
            number=Shop.next_number("last_order_number"),
            title=title,
            customer=customer,
            approver=customer.name,
            **wishes,
        )
        Payer.objects.create(order=order, customer=customer, share=1)
        Event.objects.note("order opened", by=by, order=order)
        return order

    def in_the_workroom(self) -> OrderQuerySet:
        """Orders that are neither handed over nor cancelled."""
        return self.filter(handed_over_at=None, cancelled_at=None)

    def agreed_and_drawn(self) -> OrderQuerySet:
        """Orders in the workroom whose price was said yes to and that have a layout, with their work."""
        found = self.in_the_workroom().filter(accepted_at__isnull=False, design__at__gt=0)
        return found.select_related("design").prefetch_related("stages").order_by("number")

    def waiting_beside(self, order: Order) -> OrderQuerySet:
        """The others of its customer, or out of its bags, whose price has no yes yet."""
        theirs = Q(customer=order.customer_id) | Q(bags__in=order.bags.all())
        found = self.filter(theirs, accepted_at=None).exclude(pk=order.pk).distinct()
        return found.prefetch_related("payers").order_by("number")

    def soonest_first(self) -> OrderQuerySet:
        return self.order_by(models.F("needed_by").asc(nulls_last=True), "number")

    def put_away(self) -> OrderQuerySet:
        return self.exclude(handed_over_at=None)


class Order(Versioned):
    """A quilt, or another thing to make. Its state is read off what has happened, never picked.

    Until `secret_until` nothing of it reaches the recipient; `pictures_welcome` is said of a memorial alone.
    """

    class Kind(models.TextChoices):
        QUILT = "quilt"
        PILLOW = "pillow"
        WALL = "wall", "wall piece"
        REPAIR = "repair"

        @property
        def thing(self) -> str:
            """What it is called in a sentence: quilt, pillow, wall piece; what is mended is a quilt."""
            return "quilt" if self == "repair" else str(self.label).lower()

    class Leaving(models.TextChoices):
        COLLECTION = "collection"
        DELIVERY = "delivery"
        PARCEL = "parcel"

    number = models.PositiveIntegerField(unique=True)
    title = models.CharField(max_length=120)
    place = models.CharField(max_length=80, blank=True)
    kind = models.CharField(max_length=8, choices=Kind.choices, default=Kind.QUILT)
    customer = models.ForeignKey("orders.Customer", models.PROTECT, related_name="orders")
    bags = models.ManyToManyField("orders.Bag", related_name="orders", blank=True)
    occasion = models.CharField(max_length=120, blank=True)
    memorial = models.BooleanField(default=False)
    discreet = models.CharField(max_length=200, blank=True)
    secret_until = models.DateField(null=True, blank=True)
    pictures_welcome = models.BooleanField(default=False)
    label_words = models.CharField(max_length=200, blank=True)
    label_by = models.CharField(max_length=120, blank=True)
    needed_by = models.DateField(null=True, blank=True)
    not_on = models.DateField(null=True, blank=True)
    cushion_days = models.PositiveSmallIntegerField(null=True, blank=True)
    width = models.BigIntegerField(null=True, blank=True)
    height = models.BigIntegerField(null=True, blank=True)
    wish = models.JSONField(default=dict, blank=True)
    cloth = models.JSONField(default=dict, blank=True)
    top = models.JSONField(default=dict, blank=True)
    approver = models.CharField(max_length=120)
    recipient = models.CharField(max_length=120, blank=True)
    collector = models.CharField(max_length=120, blank=True)
    leaving = models.CharField(max_length=10, choices=Leaving.choices, default=Leaving.COLLECTION)
    promised_for = models.DateField(null=True, blank=True)
    opened_at = models.DateTimeField(default=timezone.now)
    accepted_at = models.DateTimeField(null=True, blank=True)
    paused_at = models.DateTimeField(null=True, blank=True)
    why_paused = models.CharField(max_length=120, blank=True)
    cancelled_at = models.DateTimeField(null=True, blank=True)
    handed_over_at = models.DateTimeField(null=True, blank=True)
    handed_to = models.CharField(max_length=120, blank=True)

    objects = OrderQuerySet.as_manager()

    class Meta:
        indexes = [models.Index(fields=["handed_over_at", "cancelled_at", "needed_by"])]
        constraints = [
            models.CheckConstraint(
                condition=Q(handed_over_at=None) | Q(cancelled_at=None), name="order_left_or_cancelled"
            ),
            models.CheckConstraint(
                condition=~Q(title="") & ~Q(approver=""), name="order_has_title_and_approver"
            ),
        ]

    def __str__(self) -> str:
        return f"No. {self.number} {self.title}"

    @property
    def thing(self) -> str:
        """What it is called in a sentence."""
        return self.Kind(self.kind).thing

    @property
    def keeps_to_what_it_was_given(self) -> bool:
        """Say whether it is of the shirts given to it alone: a pillow is, a quilt takes all that are free."""
        return self.kind == self.Kind.PILLOW

    @property
    def your_thing(self) -> str:
        """What it is called to its customer: `your quilt`; what is in memory of somebody is `the quilt`."""
        return f"{'the' if self.memorial else 'your'} {self.thing}"

    def cushion(self) -> int:
        """Return the days kept free before the day wanted."""
        if self.cushion_days is not None:
            return self.cushion_days
        shop = Shop.objects.the()
        return shop.cushion_days if shop else 0

    @transaction.atomic
    def pause(self, *, why: str, by: Person) -> None:
        """Let it rest; it asks for no time until it goes on."""
        if self.paused_at is None:
            self.paused_at, self.why_paused = timezone.now(), why
            self.save(update_fields=["paused_at", "why_paused"])
            Event.objects.note("paused", by=by, order=self, why=why)

    @transaction.atomic
    def go_on(self, *, by: Person) -> None:
        """Take it up again."""
        if self.paused_at is not None:
            self.paused_at, self.why_paused = None, ""
            self.save(update_fields=["paused_at", "why_paused"])
            Event.objects.note("taken up again", by=by, order=self)

    @transaction.atomic
    def promise(self, day: date, *, by: Person | None) -> None:
        """Write down the day planned for."""
        if self.promised_for != day:
            before, self.promised_for = self.promised_for, day
            self.save(update_fields=["promised_for"])
            Event.objects.note("planned for", by=by, order=self, day=day, before=before)

    @transaction.atomic
    def keep_off(self, day: date | None, *, by: Person) -> None:
        """Write down the day on which it must not leave, such as an anniversary; None takes it out."""
        if self.not_on != day:
            before, self.not_on = self.not_on, day
            self.save(update_fields=["not_on"])
            Event.objects.note("not on a day", by=by, order=self, day=day, before=before)

    @transaction.atomic
    def cancel(self, *, by: Person) -> None:
        """Stop the order; what was cut stays cut, what is whole goes back."""
        if self.cancelled_at is None and self.handed_over_at is None:
            self.cancelled_at = timezone.now()
            self.save(update_fields=["cancelled_at"])
            Event.objects.note("cancelled", by=by, order=self)

    @transaction.atomic
    def hand_over(self, to: str, *, by: Person, **why: str) -> None:
        """Give it out of the shop, once; `why` keeps the reasons given for what is not as usual."""
        now = Order.objects.select_for_update().get(pk=self.pk)
        if now.handed_over_at is None and now.cancelled_at is None:
            self.handed_over_at, self.handed_to = timezone.now(), to
            self.save(update_fields=["handed_over_at", "handed_to"])
            Event.objects.note("handed over", by=by, order=self, to=to, **why)


class Payer(models.Model):
    """Who pays which share of an order, or a set amount in minor units that comes off first (0: a share)."""

    order = models.ForeignKey(Order, models.CASCADE, related_name="payers")
    customer = models.ForeignKey("orders.Customer", models.PROTECT, related_name="pays")
    share = models.PositiveSmallIntegerField(default=1)
    set_amount = models.PositiveBigIntegerField(default=0)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["order", "customer"], name="payer_once_per_order")]

    def __str__(self) -> str:
        return f"{self.customer} for {self.order}"
