"""Cloth on the shelf: what there is, what is spoken for, and what each piece costs new."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django.db import models, transaction
from django.db.models import Q
from django.utils import timezone

from .event import Event
from .people import Person
from .versioned import Versioned


class ClothQuerySet(models.QuerySet["Cloth"]):
    def with_pieces(self) -> ClothQuerySet:
        """Fetch the pieces of each cloth, what is spoken for, its swatch, and the garment it is of."""
        return self.select_related("swatch", "garment", "yes").prefetch_related(
            "pieces", "reservations__order"
        )

    def in_use(self) -> ClothQuerySet:
        """Cloth that was not put away."""
        return self.filter(put_away_at=None)

    def on_the_shelf(self) -> ClothQuerySet:
        """Cloth of the shop that is in use; what a customer's garment gives is hers."""
        return self.in_use().filter(garment=None).with_pieces()

    def for_quilt(self, order: Any) -> ClothQuerySet:
        """Cloth a quilt may be made with: the shelf, what was chosen for it, and its own garments."""
        here = Q(put_away_at=None) | Q(name__in=[name for name in order.cloth.values() if name])
        return self.filter(here, Q(garment=None) | Q(for_order=order)).with_pieces()

    def chosen_for(self, order: Any) -> dict[str, Cloth]:
        """Return the cloth chosen for each part of a quilt, as far as it is still listed."""
        there = {cloth.name: cloth for cloth in self.filter(name__in=order.cloth.values())}
        return {role: there[name] for role, name in order.cloth.items() if name in there}

    def from_garments(self) -> ClothQuerySet:
        """Garments that serve as cloth, with what is known of them."""
        return self.in_use().exclude(garment=None).with_pieces().select_related("for_order")


class Cloth(Versioned):
    """A cloth, batting or interfacing. Lengths in ticks; `price` is minor units a yard or meter, as text.

    `width` is that of the bolt, `usable` what lies between the selvages. `look` is what its swatch
    looks like, `shows` how far that photo reaches from side to side. `quarter_price` is that of a fat
    quarter in minor units, None where it is not sold so. A garment that serves as cloth has
    its `garment`, the order it is for and the yes that lets it be cut.
    """

    name = models.CharField(max_length=80, unique=True)
    kind = models.CharField(max_length=30, default="cotton")
    width = models.BigIntegerField(null=True, blank=True)
    usable = models.BigIntegerField()
    step = models.BigIntegerField()
    price = models.CharField(max_length=20, blank=True)
    price_per = models.CharField(max_length=2, choices=[("yd", "a yard"), ("m", "a meter")], default="yd")
    quarter_price = models.BigIntegerField(null=True, blank=True)
    ground = models.CharField(max_length=7, blank=True)
    swatch = models.ForeignKey("orders.Photo", models.PROTECT, null=True, blank=True, related_name="+")
    shows = models.BigIntegerField(null=True, blank=True)
    look = models.JSONField(null=True, blank=True)
    directional = models.BooleanField(default=False)
    wash = models.CharField(max_length=120, blank=True)
    lot = models.CharField(max_length=40, blank=True)
    bonds_at = models.PositiveSmallIntegerField(null=True, blank=True)
    place = models.CharField(max_length=60, blank=True)
    put_away_at = models.DateTimeField(null=True, blank=True)
    garment = models.OneToOneField(
        "orders.Shirt", models.PROTECT, null=True, blank=True, related_name="as_cloth"
    )
    for_order = models.ForeignKey(
        "orders.Order", models.PROTECT, null=True, blank=True, related_name="cloth_of_garments"
    )
    yes = models.ForeignKey("orders.Consent", models.PROTECT, null=True, blank=True, related_name="+")

    objects = ClothQuerySet.as_manager()

    class Meta:
        ordering = ["kind", "name"]
        constraints = [
            models.CheckConstraint(condition=Q(usable__gt=0) & Q(step__gt=0), name="cloth_has_width"),
            models.CheckConstraint(
                condition=Q(quarter_price=None) | Q(quarter_price__gt=0), name="cloth_quarter_has_a_price"
            ),
            models.CheckConstraint(
                condition=Q(width=None) | Q(width__gte=models.F("usable")), name="cloth_wider_than_usable"
            ),
            models.CheckConstraint(
                condition=Q(garment=None, for_order=None) | Q(garment__isnull=False, for_order__isnull=False),
                name="cloth_of_a_garment_is_for_an_order",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def price_minor(self) -> Decimal | None:
        """The price of a yard or meter in minor units; None when no more can be bought."""
        return Decimal(self.price) if self.price else None

    @property
    def here(self) -> list[ClothPiece]:
        """The pieces that lie on the shelf, the longest first."""
        return sorted(
            (each for each in self.pieces.all() if each.used_up_at is None), key=lambda each: -each.length
        )

    @property
    def on_hand(self) -> int:
        """Length on the shelf of the usable width, in ticks; narrower pieces are not counted in."""
        return sum(each.length for each in self.here if each.width >= self.usable)

    @property
    def narrow(self) -> int:
        """Length of the pieces on the shelf that are narrower than the cloth, such as fat quarters."""
        return sum(each.length for each in self.here if each.width < self.usable)

    @property
    def spoken_for(self) -> int:
        """Length that orders have reserved and not yet cut, in ticks."""
        return sum(each.length for each in self.reservations.all() if each.is_open)

    @property
    def left(self) -> int:
        """Length on hand less what is spoken for, which narrower pieces may give; below 0 it is bought."""
        left = self.on_hand - self.spoken_for
        return left if left >= 0 else min(0, left + self.narrow)

    @property
    def short(self) -> int:
        """Length that is spoken for and not here, in ticks."""
        return max(0, -self.left)

    @property
    def may_be_cut(self) -> bool:
        """Say whether nothing is missing before the blade: a customer's garment needs her yes."""
        return self.garment_id is None or (self.yes is not None and self.yes.stands)

    @transaction.atomic
    def put_on_shelf(
        self,
        length: int,
        *,
        by: Person,
        width: int | None = None,
        part: str = "",
        client_id: str | None = None,
    ) -> ClothPiece:
        """Add a piece of so many ticks; sent twice, it is the first one again."""
        before = ClothPiece.objects.filter(client_id=client_id).first() if client_id else None
        if before is not None:
            return before
        piece = self.pieces.create(width=width or self.usable, length=length, part=part, client_id=client_id)
        Event.objects.note("cloth put on the shelf", by=by, cloth=self.name, length=length)
        return piece

    @transaction.atomic
    def put_away(self, *, by: Person) -> None:
        """Show it on the shelf no more; what used it keeps it."""
        if self.put_away_at is None:
            self.put_away_at = timezone.now()
            self.save(update_fields=["put_away_at"])
            Event.objects.note("cloth put away", by=by, cloth=self.name)

    @transaction.atomic
    def bring_back(self, *, by: Person) -> None:
        """Show it on the shelf again."""
        if self.put_away_at is not None:
            self.put_away_at = None
            self.save(update_fields=["put_away_at"])
            Event.objects.note("cloth brought back", by=by, cloth=self.name)


class ClothPiece(models.Model):
    """A piece of a cloth on the shelf, whole until it is used up; of a garment, `part` is where it lies."""

    cloth = models.ForeignKey(Cloth, models.PROTECT, related_name="pieces")
    part = models.CharField(max_length=40, blank=True)
    width = models.BigIntegerField()
    length = models.BigIntegerField()
    used_up_at = models.DateTimeField(null=True, blank=True)
    client_id = models.CharField(max_length=64, null=True, unique=True, editable=False)

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(width__gt=0) & Q(length__gt=0), name="cloth_piece_has_a_size")
        ]

    def __str__(self) -> str:
        return f"{self.cloth} {self.length}"

    @transaction.atomic
    def use_up(self, *, by: Person) -> None:
        """Say that nothing of it is left."""
        if self.used_up_at is None:
            self.used_up_at = timezone.now()
            self.save(update_fields=["used_up_at"])
            Event.objects.note("cloth used up", by=by, cloth=self.cloth.name, length=self.length)

    @transaction.atomic
    def lay_back(self, *, by: Person) -> None:
        """Say that it is on the shelf after all."""
        if self.used_up_at is not None:
            self.used_up_at = None
            self.save(update_fields=["used_up_at"])
            Event.objects.note("cloth laid back", by=by, cloth=self.cloth.name, length=self.length)


class Reservation(models.Model):
    """Length of a cloth that an order has spoken for in a role.

    `AGAIN` is what is cut a second time, beside what the layout takes.
    """

    AGAIN = "recut"

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
                fields=["order", "role", "cloth"],
                condition=Q(cut_at=None, let_go_at=None),
                name="cloth_reserved_once_per_role",
            ),
            models.CheckConstraint(condition=Q(length__gt=0), name="reservation_has_a_length"),
        ]

    def __str__(self) -> str:
        return f"{self.cloth} for {self.order}"

    @property
    def is_open(self) -> bool:
        """Say whether the length still has to be kept for its order, which is neither gone nor cancelled."""
        is_kept = self.cut_at is None and self.let_go_at is None
        return is_kept and self.order.handed_over_at is None and self.order.cancelled_at is None
