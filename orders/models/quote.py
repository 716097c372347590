"""A price told, frozen: a new one replaces it, the old is kept."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.db import models, transaction
from django.db.models import Q
from django.utils import timezone

from planner.price import Pricing

from .event import Event
from .people import Person


class QuoteQuerySet(models.QuerySet["Quote"]):
    def agreed(self) -> QuoteQuerySet:
        """The price that stands: said yes to, and no newer one said yes to since."""
        return self.filter(accepted_at__isnull=False, replaced_by=None)

    def newest_first(self) -> QuoteQuerySet:
        return self.order_by("-number")


class CannotAccept(Exception):
    """A quote that is over: expired, withdrawn or replaced. The message says which and what to do."""


class Quote(models.Model):
    """A version of the price of an order, and what it was reckoned from. Money in minor units of `currency`.

    `minutes` are the stages as (stage, minutes), `paid_out` what cloth and other people's work come to,
    `layout` the fingerprint of the quilt that was priced; `dues` the days on which the parts of the rest
    are due, where any were named. Prices told together have one yes: `told_with` is the first of them, and
    `together` what each comes to, as all of them tell it.
    """

    number = models.PositiveIntegerField()
    order = models.ForeignKey("orders.Order", models.PROTECT, related_name="quotes")
    lines = models.JSONField()
    taxes = models.JSONField(default=list)
    currency = models.CharField(max_length=3)
    net = models.BigIntegerField()
    tax = models.BigIntegerField()
    total = models.BigIntegerField()
    deposit = models.BigIntegerField()
    instalments = models.JSONField(default=list)
    dues = models.JSONField(default=list, blank=True)
    told_with = models.ForeignKey("self", models.PROTECT, null=True, blank=True, related_name="told_after")
    together = models.JSONField(default=list, blank=True)
    planned_for = models.DateField(null=True, blank=True)
    depends_on = models.TextField(blank=True)
    terms = models.TextField(blank=True)
    settling = models.JSONField(default=dict, blank=True)
    size = models.CharField(max_length=80, blank=True)
    minutes = models.JSONField(default=list)
    paid_out = models.BigIntegerField(default=0)
    layout = models.CharField(max_length=64, blank=True)
    issued_at = models.DateTimeField(default=timezone.now)
    issued_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    valid_until = models.DateField()
    accepted_at = models.DateTimeField(null=True, blank=True)
    accepted_by = models.CharField(max_length=120, blank=True)
    accepted_how = models.CharField(max_length=8, blank=True)
    withdrawn_at = models.DateTimeField(null=True, blank=True)
    replaced_by = models.ForeignKey("self", models.PROTECT, null=True, blank=True, related_name="replaces")

    objects = QuoteQuerySet.as_manager()

    class Meta:
        ordering = ["order", "-number"]
        constraints = [
            models.UniqueConstraint(fields=["order", "number"], name="quote_number_once"),
            models.CheckConstraint(
                condition=Q(total=models.F("net") + models.F("tax")), name="quote_adds_up"
            ),
            models.CheckConstraint(
                condition=Q(accepted_at=None) | ~Q(accepted_by=""), name="quote_accepted_by_somebody"
            ),
        ]

    def __str__(self) -> str:
        return f"Quote {self.number} for {self.order}"

    def all_told(self) -> list[Quote]:
        """Return the prices that one yes counts for, in the order in which they are told."""
        if not self.together:
            return [self]
        first = self.told_with_id or self.pk
        found = Quote.objects.filter(Q(pk=first) | Q(told_with=first))
        return list(found.select_related("order").order_by("pk"))

    @property
    def total_of_all(self) -> int:
        """What all that is told with it comes to."""
        return sum(each["total"] for each in self.together) or self.total

    @property
    def deposit_of_all(self) -> int:
        """What is paid first for all that is told with it."""
        return sum(each["deposit"] for each in self.together) if self.together else self.deposit

    def standing(self, *, on: date) -> str:
        """Say what it is worth today: accepted, withdrawn, replaced, expired or open."""
        if self.replaced_by_id is not None:
            return "replaced"
        if self.accepted_at is not None:
            return "accepted"
        if self.withdrawn_at is not None:
            return "withdrawn"
        return "expired" if on > self.valid_until else "open"

    @transaction.atomic
    def accept(self, *, by: str, how: str, on: date, written_by: Person | None) -> bool:
        """Take the customer's yes to the price; a second time changes nothing and gives False."""
        now = Quote.objects.select_for_update().get(pk=self.pk)
        standing = now.standing(on=on)
        if standing == "accepted":
            return False
        if standing != "open":
            raise CannotAccept(_WHY[standing])
        self.accepted_at, self.accepted_by, self.accepted_how = timezone.now(), by, how
        self.save(update_fields=["accepted_at", "accepted_by", "accepted_how"])
        self.order.quotes.agreed().exclude(pk=self.pk).update(replaced_by=self)
        if self.order.accepted_at is None:
            self.order.accepted_at = self.accepted_at
            self.order.save(update_fields=["accepted_at"])
        Event.objects.note("quote accepted", by=written_by, order=self.order, quote=self.number, said_by=by)
        return True

    @transaction.atomic
    def withdraw(self, *, by: Person) -> None:
        """Take an open quote back."""
        now = Quote.objects.select_for_update().get(pk=self.pk)
        if now.accepted_at is None and now.withdrawn_at is None:
            self.withdrawn_at = timezone.now()
            self.save(update_fields=["withdrawn_at"])
            Event.objects.note("quote withdrawn", by=by, order=self.order, quote=self.number)


class ExtraLine(models.Model):
    """A line the owner adds to the next quotes of an order; a discount is written as one, below 0.

    Work by the hour has its `minutes` so far, what `an_hour` costs, and the `most` it may come to.
    """

    class Kind(models.TextChoices):
        ADDED = "labour", "more work"
        MATERIALS = "materials", "materials"
        SHIPPING = "shipping", "shipping"
        CREDIT = "credit", "discount"

    order = models.ForeignKey("orders.Order", models.CASCADE, related_name="extra_lines")
    words = models.CharField(max_length=80)
    kind = models.CharField(max_length=10, choices=Kind.choices)
    minor = models.BigIntegerField()
    minutes = models.PositiveIntegerField(null=True, blank=True)
    an_hour = models.BigIntegerField(null=True, blank=True)
    most = models.BigIntegerField(null=True, blank=True)
    added_by = models.ForeignKey(Person, models.PROTECT, related_name="+")

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=(Q(kind="credit") & Q(minor__lt=0)) | (~Q(kind="credit") & Q(minor__gt=0)),
                name="a_discount_lowers_and_a_line_adds",
            ),
            models.CheckConstraint(
                condition=Q(minutes=None, an_hour=None) | Q(minutes__gt=0, an_hour__gt=0),
                name="hours_have_a_price",
            ),
        ]

    def __str__(self) -> str:
        return self.words


_WHY = {
    "withdrawn": "This quote was taken back. Ask the shop for a new one.",
    "replaced": "A newer quote has taken the place of this one. Look at the new one first.",
    "expired": "This quote is past its day. Ask the shop to renew it.",
}


@transaction.atomic
def issue_quote(order: Any, pricing: Pricing, *, by: Person, valid_until: date, **told: Any) -> Quote:
    """Freeze a price as the order's next quote; the open one before it is replaced."""
    from planner.brief import as_json

    last = order.quotes.select_for_update().order_by("-number").first()
    quote = Quote.objects.create(
        order=order,
        number=last.number + 1 if last else 1,
        lines=[
            {"words": line.words, "count": line.count, "amount": line.amount.minor} for line in pricing.lines
        ],
        taxes=as_json(pricing.taxes),
        currency=pricing.net.currency,
        net=pricing.net.minor,
        tax=pricing.tax.minor,
        total=pricing.total.minor,
        deposit=pricing.deposit.minor,
        instalments=[each.minor for each in pricing.instalments],
        issued_by=by,
        valid_until=valid_until,
        **told,
    )
    if last is not None and last.accepted_at is None and last.withdrawn_at is None:
        last.replaced_by = quote
        last.save(update_fields=["replaced_by"])
    Event.objects.note("quote issued", by=by, order=order, quote=quote.number)
    return quote
