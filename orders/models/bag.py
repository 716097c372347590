"""What came in together, counted in words, and where it stands until the last piece has left."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.db import models, transaction
from django.db.models import Q
from django.utils import timezone

from .customer import Customer
from .event import Event
from .people import Person
from .versioned import Versioned

if TYPE_CHECKING:
    from .order import Order


class BagQuerySet(models.QuerySet["Bag"]):
    def still_here(self) -> BagQuerySet:
        """Bags that have not been handed back."""
        return self.filter(handed_back_at=None)

    def serving(self, order: Order) -> BagQuerySet:
        """The bags of an order with their shirts, panels and photos, the first to come in first."""
        shown = self.filter(orders=order).select_related("received_by")
        with_all = shown.prefetch_related(
            "shirts__pieces", "shirts__photos", "photos", "orders", "papers", "signatures"
        )
        return with_all.order_by("received_at", "pk")

    def could_also_serve(self, order: Order) -> BagQuerySet:
        """Bags of the order's customer that are here and not yet used for it."""
        return self.still_here().filter(customer=order.customer_id).exclude(orders=order)

    def sent_before(self, client_id: str | None) -> Bag | None:
        """Return the bag of this very form, if it was sent already."""
        return self.filter(client_id=client_id).first() if client_id else None

    def to_log(self, order: Order, *, wanted: str | None = None) -> Bag | None:
        """Return the bag to log shirts of: the one asked for, else one with some left, or the last.

        A bag that is asked for and not of this order is None: its shirts belong into no other.
        """
        bags = list(self.serving(order))
        if wanted:
            return next((bag for bag in bags if str(bag.pk) == wanted), None)
        unfinished = [bag for bag in bags if bag.tally().not_logged]
        return next(iter(unfinished or bags[-1:]), None)

    @transaction.atomic
    def receive(self, order: Order, *, by: Person, client_id: str | None = None, **facts: Any) -> Bag:
        """Take a bag in for an order; sent twice, it is the first one again."""
        before = self.sent_before(client_id)
        if before is not None:
            return before
        bag = self.create(customer=order.customer, received_by=by, client_id=client_id, **facts)
        order.bags.add(bag)
        Event.objects.note("bag received", by=by, order=order, bag=bag.pk, count=bag.count)
        return bag


class Bag(Versioned):
    """A bag of garments. `count` is what was counted at the door, None while the bag is still sealed.

    `sacks` is how many sacks or boxes came: all that is known of what nobody has inspected.
    """

    class How(models.TextChoices):
        HAND = "hand", "by hand"
        PARCEL = "parcel", "by parcel"

    customer = models.ForeignKey("orders.Customer", models.PROTECT, related_name="bags")
    brought_by = models.CharField(max_length=120)
    how = models.CharField(max_length=8, choices=How.choices, default=How.HAND)
    count = models.PositiveSmallIntegerField(null=True, blank=True)
    sacks = models.PositiveSmallIntegerField(default=1)
    place = models.CharField(max_length=60, blank=True)
    washed_without_softener = models.BooleanField(default=False)
    smoke = models.BooleanField(default=False)
    pets = models.BooleanField(default=False)
    mold = models.BooleanField(default=False)
    insects = models.BooleanField(default=False)
    soiled = models.BooleanField(default=False)
    allergies = models.CharField(max_length=200, blank=True)
    leftovers_back = models.BooleanField(default=True)
    notes = models.TextField(blank=True)
    received_at = models.DateTimeField(default=timezone.now)
    received_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    handed_back_at = models.DateTimeField(null=True, blank=True)
    client_id = models.CharField(max_length=64, null=True, unique=True, editable=False)

    objects = BagQuerySet.as_manager()

    class Meta:
        constraints = [models.CheckConstraint(condition=~Q(brought_by=""), name="bag_brought_by_somebody")]

    def __str__(self) -> str:
        return f"Bag {self.pk} of {self.customer}"

    @transaction.atomic
    def count_again(self, count: int, *, by: Person) -> None:
        """Write down how many garments there are; every count stays in the record."""
        before, self.count = self.count, count
        self.save(update_fields=["count"])
        Event.objects.note("counted", by=by, bag=self.pk, before=before, count=count)

    @transaction.atomic
    def serve(self, order: Order, *, by: Person) -> None:
        """Use this bag for one more order of the same customer; shirt numbers must stay apart."""
        self._hold_the_numbers()
        mine = set(self.shirts.values_list("number", flat=True))
        taken = Shirt.objects.filter(bag__orders=order).exclude(bag=self)
        both = sorted(mine & set(taken.values_list("number", flat=True)))
        if both:
            raise ValueError(
                f"Both bags have a shirt {both[0]:02d}. Two of one number in one quilt would be mixed up,"
                " so make the second quilt an order of its own bag."
            )
        order.bags.add(self)
        Event.objects.note("bag serves", by=by, order=order, bag=self.pk)

    def next_number(self) -> int:
        """Return the next shirt number, counted on over all that could lie beside this bag’s shirts."""
        return (self._beside().aggregate(last=models.Max("number"))["last"] or 0) + 1

    def number_for(self, wanted: int | None) -> int:
        """Return the number wanted where it is free, else the next; only inside a transaction."""
        self._hold_the_numbers()
        taken = wanted is None or self.with_number(wanted) is not None
        return self.next_number() if taken or wanted is None else wanted

    def with_number(self, number: int) -> Shirt | None:
        """Return the shirt that has a number already, here or where it could be mixed up with one here."""
        return self._beside().filter(number=number).first()

    def _beside(self) -> models.QuerySet[Shirt]:
        """The shirts of all bags of this customer that are here, or that serve an order this one serves."""
        here = Q(bag__customer=self.customer_id, bag__handed_back_at=None)
        together = Q(bag__in=Bag.objects.filter(orders__in=self.orders.all()).values("pk"))
        return Shirt.objects.filter(here | together)

    def _hold_the_numbers(self) -> None:
        """Let nobody else give a number of this customer’s until this transaction is over."""
        Customer.objects.select_for_update().get(pk=self.customer_id)

    @property
    def hazards(self) -> list[str]:
        """What to be careful of before this bag is opened, the gravest first."""
        return [name for name in ("mold", "insects", "soiled", "smoke", "pets") if getattr(self, name)]

    def tally(self) -> Tally:
        """Return the count: how many came in and where each is. Guests are counted apart."""
        lines = list(self.shirts.all())
        by_state = dict.fromkeys(Shirt.State.values, 0)
        for shirt in lines:
            if not shirt.guest:
                by_state[shirt.state] += shirt.garments
        here = (Shirt.State.IN_WORK, Shirt.State.MISSING)
        guests = sum(shirt.garments for shirt in lines if shirt.guest and shirt.state in here)
        damaged = sum(shirt.garments for shirt in lines if shirt.damaged and shirt.state in here)
        return Tally(self.count, by_state, guests=guests, damaged=damaged)

    @property
    def is_inspected(self) -> bool:
        """Say whether anybody has opened and counted it."""
        return self.count is not None

    @property
    def signed(self) -> list[Signature]:
        """The signatures for the count as it stands: of an older count none is left."""
        return [each for each in self.signatures.all() if each.count == self.count]

    @transaction.atomic
    def sign(self, role: str, name: str, strokes: list[list[int]], *, by: Person) -> Signature:
        """Write down who signed for the count as it stands; the same name twice is once."""
        signature, is_new = Signature.objects.get_or_create(
            bag=self, role=role, count=self.count, name=name, defaults={"strokes": strokes, "written_by": by}
        )
        if is_new:
            Event.objects.note("signed", by=by, bag=self.pk, role=role, name=name, count=self.count)
        return signature


class Signature(models.Model):
    """A name under a count, drawn on the screen or typed. It belongs to that count and to no later one.

    `strokes` are lines of x, y, x, y … in thousandths of the pad’s width.
    """

    class Role(models.TextChoices):
        HANDED_IN = "handed in", "handed in by"
        RECEIVED = "received", "received by"

    bag = models.ForeignKey(Bag, models.PROTECT, related_name="signatures")
    role = models.CharField(max_length=10, choices=Role.choices)
    count = models.PositiveSmallIntegerField(null=True)
    name = models.CharField(max_length=120)
    strokes = models.JSONField(default=list, blank=True)
    at = models.DateTimeField(default=timezone.now)
    written_by = models.ForeignKey(Person, models.PROTECT, related_name="+")

    class Meta:
        ordering = ["pk"]
        constraints = [models.CheckConstraint(condition=~Q(name=""), name="signed_by_somebody")]

    def __str__(self) -> str:
        return f"{self.get_role_display()} {self.name}"


class Tally:
    """The count of a bag: in = in work + used + returned whole + discarded by consent.

    What was taken out of the log is in none of them; `guests` match no line and are still here;
    `damaged` are kept, in work.
    """

    def __init__(
        self, came_in: int | None, by_state: dict[str, int], *, guests: int = 0, damaged: int = 0
    ) -> None:
        self.came_in = came_in
        self.in_work = by_state["in work"] + by_state["missing"]
        self.used = by_state["used"]
        self.returned = by_state["returned"]
        self.discarded = by_state["discarded"]
        self.missing = by_state["missing"]
        self.logged = self.in_work + self.used + self.returned + self.discarded
        self.guests = guests
        self.damaged = damaged

    @property
    def not_logged(self) -> int:
        """Garments counted at the door that have no number yet."""
        return max(0, (self.came_in or 0) - self.logged)

    @property
    def too_many(self) -> int:
        """Garments logged beyond what was counted."""
        return max(0, self.logged - self.came_in) if self.came_in is not None else 0

    @property
    def adds_up(self) -> bool:
        """Say whether every garment that was counted has its number and its place."""
        return self.came_in == self.logged and not self.missing


from .shirt import Shirt  # noqa: E402  (a shirt names its bag, a bag counts its shirts)
