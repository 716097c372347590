"""Cloth on the shelf: what there is, what is spoken for, and what each piece costs new."""

from __future__ import annotations

from decimal import Decimal

from django.db import models, transaction
from django.db.models import Q
from django.utils import timezone

from .event import Event
from .people import Person
from .versioned import Versioned


class Cloth(Versioned):
    """A cloth, batting or interfacing. Lengths in ticks; `price` is minor units a yard or meter, as text."""

    name = models.CharField(max_length=80, unique=True)
    kind = models.CharField(max_length=30, default="cotton")
    usable = models.BigIntegerField()
    step = models.BigIntegerField()
    price = models.CharField(max_length=20, blank=True)
    price_per = models.CharField(max_length=2, choices=[("yd", "a yard"), ("m", "a meter")], default="yd")
    ground = models.CharField(max_length=7, blank=True)
    swatch = models.ForeignKey("orders.Photo", models.PROTECT, null=True, blank=True, related_name="+")
    directional = models.BooleanField(default=False)
    lot = models.CharField(max_length=40, blank=True)
    bonds_at = models.PositiveSmallIntegerField(null=True, blank=True)
    place = models.CharField(max_length=60, blank=True)
    put_away_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["kind", "name"]
        constraints = [
            models.CheckConstraint(condition=Q(usable__gt=0) & Q(step__gt=0), name="cloth_has_width")
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def price_minor(self) -> Decimal | None:
        """The price of a yard or meter in minor units; None when no more can be bought."""
        return Decimal(self.price) if self.price else None

    @transaction.atomic
    def put_on_shelf(self, length: int, *, by: Person, width: int | None = None) -> ClothPiece:
        """Add a piece of so many ticks."""
        piece = self.pieces.create(width=width or self.usable, length=length)
        Event.objects.note("cloth put on the shelf", by=by, cloth=self.name, length=length)
        return piece


class ClothPiece(models.Model):
    """A piece of a cloth on the shelf, whole until it is used up."""

    cloth = models.ForeignKey(Cloth, models.PROTECT, related_name="pieces")
    width = models.BigIntegerField()
    length = models.BigIntegerField()
    used_up_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(width__gt=0) & Q(length__gt=0), name="cloth_piece_has_a_size")
        ]

    def __str__(self) -> str:
        return f"{self.cloth} {self.length}"


class Reservation(models.Model):
    """Length of a cloth that an order has spoken for in a role."""

    cloth = models.ForeignKey(Cloth, models.PROTECT, related_name="reservations")
    order = models.ForeignKey("orders.Order", models.PROTECT, related_name="reservations")
    role = models.CharField(max_length=12)
    length = models.BigIntegerField()
    made_at = models.DateTimeField(default=timezone.now)
    cut_at = models.DateTimeField(null=True, blank=True)
    let_go_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["order", "role"],
                condition=Q(cut_at=None, let_go_at=None),
                name="one_cloth_reserved_per_role",
            ),
            models.CheckConstraint(condition=Q(length__gt=0), name="reservation_has_a_length"),
        ]

    def __str__(self) -> str:
        return f"{self.cloth} for {self.order}"
