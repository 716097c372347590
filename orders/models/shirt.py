"""A garment of a bag, and the parts of it that may go into a quilt."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django.db import models, transaction
from django.db.models import Q
from django.utils import timezone

from planner.quilt import PRINT_KINDS, STRETCHES, THICKNESSES, WANTED, WASHES

from .event import Event
from .people import Person
from .versioned import Versioned


def _as_choices(words: tuple[str, ...]) -> list[tuple[str, str]]:
    return [(word, word) for word in words]


class ShirtQuerySet(models.QuerySet["Shirt"]):
    def of_order(self, number: int) -> ShirtQuerySet:
        """The shirts of an order's bags, wherever they are by now."""
        return self.filter(bag__orders__number=number)

    def beside(self, shirt: Shirt) -> tuple[Shirt | None, Shirt | None]:
        """Return the shirts before and after this one by number."""
        before = self.filter(number__lt=shirt.number).order_by("-number").first()
        return before, self.filter(number__gt=shirt.number).order_by("number").first()


class Shirt(Versioned):
    """One garment. A damaged shirt that is kept stays in work; nothing leaves without being said."""

    class State(models.TextChoices):
        IN_WORK = "in work"
        USED = "used"
        RETURNED = "returned", "returned whole"
        DISCARDED = "discarded", "discarded by consent"
        MISSING = "missing"

    class Leftovers(models.TextChoices):
        HERE = "", "still here"
        RETURNED = "returned"
        DISCARDED = "discarded", "discarded by consent"

    bag = models.ForeignKey("orders.Bag", models.PROTECT, related_name="shirts")
    number = models.PositiveSmallIntegerField()
    kind = models.CharField(max_length=40, default="tee")
    fibres = models.JSONField(default=dict)
    knit = models.BooleanField(default=True)
    stretch = models.CharField(max_length=10, choices=_as_choices(STRETCHES), default="medium")
    thickness = models.CharField(max_length=10, choices=_as_choices(THICKNESSES), default="medium")
    wash = models.CharField(max_length=14, choices=_as_choices(WASHES), default="wash")
    flags = models.JSONField(default=list, blank=True)
    flaws = models.CharField(max_length=300, blank=True)
    story = models.TextField(blank=True)
    state = models.CharField(max_length=10, choices=State.choices, default=State.IN_WORK)
    leftovers = models.CharField(max_length=10, choices=Leftovers.choices, blank=True, default="")
    consent = models.ForeignKey("orders.Consent", models.PROTECT, null=True, blank=True, related_name="+")
    logged_at = models.DateTimeField(default=timezone.now)
    client_id = models.CharField(max_length=64, null=True, unique=True, editable=False)

    objects = ShirtQuerySet.as_manager()

    class Meta:
        ordering = ["bag", "number"]
        constraints = [
            models.UniqueConstraint(fields=["bag", "number"], name="shirt_number_once_in_a_bag"),
            models.CheckConstraint(
                condition=Q(state__in=["in work", "used", "returned", "discarded", "missing"]),
                name="shirt_state_known",
            ),
            models.CheckConstraint(
                condition=~Q(state="discarded") | Q(consent__isnull=False),
                name="no_shirt_discarded_without_consent",
            ),
            models.CheckConstraint(
                condition=~Q(leftovers="discarded") | Q(consent__isnull=False),
                name="no_leftovers_discarded_without_consent",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.number:02d}"

    @property
    def fibre_shares(self) -> dict[str, Decimal]:
        """The label's fibers in per cent; a label that is gone counts as the coolest fiber of all."""
        return {name: Decimal(share) for name, share in self.fibres.items()} or {"label gone": Decimal(100)}

    @transaction.atomic
    def give_back(self, *, by: Person) -> None:
        """Return the shirt whole."""
        self._leave(self.State.RETURNED, by, "returned whole")

    @transaction.atomic
    def miss(self, *, by: Person) -> None:
        """Say that it cannot be found; it stays in the count until it is."""
        self._leave(self.State.MISSING, by, "missing")

    @transaction.atomic
    def find(self, *, by: Person) -> None:
        """Say that a missing shirt is here."""
        self._leave(self.State.IN_WORK, by, "found")

    def _leave(self, state: str, by: Person, what: str) -> None:
        now = Shirt.objects.select_for_update().get(pk=self.pk)
        if now.state == Shirt.State.USED and state != Shirt.State.USED:
            raise ValueError(f"{self} is cut; its leftovers can be returned, the shirt cannot.")
        if now.state != state:
            self.state = state
            self.save(update_fields=["state"])
            Event.objects.note(what, by=by, bag=self.bag_id, shirt=self.number)


class Piece(Versioned):
    """Part of a shirt, for one order at most. Lengths in ticks; a plain piece has a print of no size."""

    shirt = models.ForeignKey(Shirt, models.PROTECT, related_name="pieces")
    order = models.ForeignKey("orders.Order", models.PROTECT, null=True, blank=True, related_name="pieces")
    side = models.CharField(max_length=20, default="front")
    print_kind = models.CharField(max_length=14, choices=_as_choices(PRINT_KINDS), default="unknown")
    print_width = models.BigIntegerField(default=0)
    print_height = models.BigIntegerField(default=0)
    free_top = models.BigIntegerField(default=0)
    free_right = models.BigIntegerField(default=0)
    free_bottom = models.BigIntegerField(default=0)
    free_left = models.BigIntegerField(default=0)
    sizes_are_usual = models.BooleanField(default=False)
    wanted = models.CharField(max_length=4, choices=_as_choices(WANTED), default="must")
    why_out = models.CharField(max_length=200, blank=True)
    heavy = models.BooleanField(default=False)
    ground = models.CharField(max_length=7, blank=True)
    ground_is_about = models.BooleanField(default=False)
    photo = models.ForeignKey("orders.Photo", models.PROTECT, null=True, blank=True, related_name="+")
    box = models.JSONField(null=True, blank=True)
    cut_width = models.BigIntegerField(null=True, blank=True)
    cut_height = models.BigIntegerField(null=True, blank=True)

    SIDES = {"front": "F", "back": "B", "sleeve-l": "L", "sleeve-r": "R", "pocket": "P"}

    class Meta:
        ordering = ["shirt__bag", "shirt__number", "side"]
        constraints = [models.UniqueConstraint(fields=["shirt", "side"], name="side_once_per_shirt")]

    def __str__(self) -> str:
        return self.name

    @property
    def name(self) -> str:
        """What it is called within its order, such as 09F."""
        return f"{self.shirt.number:02d}{self.SIDES.get(self.side, self.side[:1].upper())}"

    @property
    def full_name(self) -> str:
        """What it is called once it has left its shirt, such as 31-09F."""
        return f"{self.order.number}-{self.name}" if self.order else self.name

    @property
    def window(self) -> tuple[float, float, float, float]:
        """Where the panel lies on its photo: left, top, width, height as shares; the whole if unmarked."""
        if self.box is None:
            return 0.0, 0.0, 1.0, 1.0
        left, top, width, height = (self.box[side] / 100 for side in ("x", "y", "width", "height"))
        return left, top, width, height

    def facts(self) -> dict[str, Any]:
        """Return what a yes to cut binds to: shirt, side and what is cut from it."""
        return {"shirt": self.shirt_id, "side": self.side, "piece": self.pk, "box": self.box}
