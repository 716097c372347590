"""A garment of a bag, and the parts of it that may go into a quilt."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django.db import models, transaction
from django.db.models import Q
from django.utils import timezone

from orders.bag.panels import letters_of
from planner.quilt import PRINT_KINDS, STRETCHES, THICKNESSES, WANTED, WASHES

from .event import Event
from .people import Person
from .stay import Place
from .versioned import Versioned


def _as_choices(words: tuple[str, ...]) -> list[tuple[str, str]]:
    return [(word, word) for word in words]


class ShirtQuerySet(models.QuerySet["Shirt"]):
    def of_order(self, number: int) -> ShirtQuerySet:
        """The shirts of an order's bags, wherever they are by now."""
        return self.filter(bag__orders__number=number)

    def here_for(self, order: Any) -> ShirtQuerySet:
        """The shirts an order may use: of its bags, still here, no guest; by bag and number."""
        here = self.filter(bag__orders=order, state__in=["in work", "used"], guest=False)
        return here.order_by("bag", "number")

    def counted(self) -> ShirtQuerySet:
        """The lines that stand in a count: neither struck nor a guest."""
        return self.filter(guest=False).exclude(state="struck")

    def beside(self, shirt: Shirt) -> tuple[Shirt | None, Shirt | None]:
        """Return the shirts before and after this one by number."""
        before = self.filter(number__lt=shirt.number).order_by("-number").first()
        return before, self.filter(number__gt=shirt.number).order_by("number").first()


class Shirt(Versioned):
    """One line of the log: a garment, or several under one tag. Nothing leaves without being said.

    A damaged shirt that is kept stays in work. A guest matches no line of the receipt and is counted
    apart. A line logged by mistake is struck: it keeps its number and is in no count.
    """

    class State(models.TextChoices):
        IN_WORK = "in work"
        USED = "used"
        RETURNED = "returned", "returned whole"
        DISCARDED = "discarded", "discarded by consent"
        MISSING = "missing"
        STRUCK = "struck", "taken out of the log"

    class Apart(models.TextChoices):
        NO = "", "with the others"
        SMELL = "smell", "apart: smell"
        INSECTS = "insects", "apart: insects"
        SOILED = "soiled", "apart: soiled"
        MOLD = "mold", "apart: mold"

    class Pockets(models.TextChoices):
        NOT_SEEN = "", "not looked into"
        EMPTY = "empty", "empty, or it has none"
        EMPTIED = "emptied"

    class Leftovers(models.TextChoices):
        HERE = "", "still here"
        RETURNED = "returned"
        DISCARDED = "discarded", "discarded by consent"

    bag = models.ForeignKey("orders.Bag", models.PROTECT, related_name="shirts")
    number = models.PositiveSmallIntegerField()
    garments = models.PositiveSmallIntegerField(default=1)
    guest = models.BooleanField(default=False)
    wrong_tag = models.PositiveSmallIntegerField(null=True, blank=True)
    kind = models.CharField(max_length=40, default="tee")
    team = models.CharField(max_length=40, blank=True)
    fibres = models.JSONField(default=dict, blank=True)
    label_read = models.BooleanField(default=True)
    knit = models.BooleanField(default=True)
    stretch = models.CharField(max_length=10, choices=_as_choices(STRETCHES), default="medium")
    stretch_from = models.BigIntegerField(null=True, blank=True)
    stretch_to = models.BigIntegerField(null=True, blank=True)
    thickness = models.CharField(max_length=10, choices=_as_choices(THICKNESSES), default="medium")
    wash = models.CharField(max_length=14, choices=_as_choices(WASHES), default="wash")
    flags = models.JSONField(default=list, blank=True)
    apart = models.CharField(max_length=8, choices=Apart.choices, blank=True, default="")
    smell = models.CharField(max_length=80, blank=True)
    pockets = models.CharField(max_length=8, choices=Pockets.choices, blank=True, default="")
    found = models.CharField(max_length=200, blank=True)
    flaws = models.CharField(max_length=300, blank=True)
    story = models.TextField(blank=True)
    state = models.CharField(max_length=10, choices=State.choices, default=State.IN_WORK)
    leftovers = models.CharField(max_length=10, choices=Leftovers.choices, blank=True, default="")
    damaged = models.BooleanField(default=False)
    place = models.CharField(max_length=8, choices=Place.choices, blank=True, default="")
    consent = models.ForeignKey("orders.Consent", models.PROTECT, null=True, blank=True, related_name="+")
    logged_at = models.DateTimeField(default=timezone.now)
    client_id = models.CharField(max_length=64, null=True, unique=True, editable=False)

    objects = ShirtQuerySet.as_manager()

    class Meta:
        ordering = ["bag", "number"]
        constraints = [
            models.UniqueConstraint(fields=["bag", "number"], name="shirt_number_once_in_a_bag"),
            models.CheckConstraint(
                condition=Q(state__in=["in work", "used", "returned", "discarded", "missing", "struck"]),
                name="shirt_state_known",
            ),
            models.CheckConstraint(condition=Q(garments__gte=1), name="a_line_is_of_a_garment_at_least"),
            models.CheckConstraint(
                condition=Q(apart__in=["", "smell", "insects", "soiled", "mold"]), name="shirt_apart_known"
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
        """The label's fibers in per cent; a label that is gone is a fiber nobody knows.

        One that nobody has read is what its kind says with a part of what blends of it have, so that
        a tap on *Cotton tee* never lets the iron be as hot as pure cotton allows: polyester, or the
        spandex of a cloth that stretches far.
        """
        shares = {name: Decimal(share) for name, share in self.fibres.items()}
        if not shares:
            return {"label gone": Decimal(100)}
        if self.label_read:
            return shares
        doubt = "spandex" if self.stretch in ("high", "very high") else "polyester"
        mixed = {name: share * 99 / 100 for name, share in shares.items()}
        return mixed | {doubt: mixed.get(doubt, Decimal(0)) + 1}

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

    @transaction.atomic
    def strike(self, *, by: Person, why: str) -> None:
        """Take a line that was logged by mistake out of the log; it keeps its number and can come back."""
        claimed = self.pieces.exclude(order=None).first()
        if claimed is not None:
            raise ValueError(f"{claimed} is in a quilt. Leave it out there first.")
        approved = self.pieces.filter(approvals__isnull=False, approvals__withdrawn_at=None).first()
        if approved is not None:
            raise ValueError(f"There is a yes to cut {approved}. Take that back first.")
        self._leave(self.State.STRUCK, by, "struck", why=why)

    @transaction.atomic
    def keep_apart(self, why: str, *, by: Person) -> None:
        """Quarantine: keep it sealed and away from the others until somebody has seen to it."""
        self._mark("kept apart", by, apart=self.Apart(why).value)

    @transaction.atomic
    def bring_in(self, *, by: Person) -> None:
        """End its quarantine."""
        self._mark("brought in", by, apart="")

    @transaction.atomic
    def write_tag(self, *, by: Person) -> None:
        """Say that its tag now has the number of the log."""
        self._mark("tag written", by, wrong_tag=None)

    def _mark(self, what: str, by: Person, **fields: Any) -> None:
        now = Shirt.objects.select_for_update().get(pk=self.pk)
        if any(getattr(now, name) != value for name, value in fields.items()):
            facts = {name: getattr(now, name) for name in fields}
            for name, value in fields.items():
                setattr(self, name, value)
            self.save(update_fields=list(fields))
            Event.objects.note(what, by=by, bag=self.bag_id, shirt=self.number, before=facts)

    def _leave(self, state: str, by: Person, what: str, **facts: Any) -> None:
        now = Shirt.objects.select_for_update().get(pk=self.pk)
        self._refuse_to_leave(now.state, state)
        if now.state != state:
            self.state = state
            self.save(update_fields=["state"])
            Event.objects.note(what, by=by, bag=self.bag_id, shirt=self.number, **facts)

    def _refuse_to_leave(self, before: str, state: str) -> None:
        if before == Shirt.State.USED and state != Shirt.State.USED:
            raise ValueError(f"{self} is cut; its leftovers can be returned, the shirt cannot.")
        if before == Shirt.State.STRUCK and state not in (Shirt.State.STRUCK, Shirt.State.IN_WORK):
            raise ValueError(f"{self} was taken out of the log. Put it back first.")
        if before == Shirt.State.DISCARDED and state != Shirt.State.DISCARDED:
            raise ValueError(f"{self} was given up by consent.")


class Piece(Versioned):
    """Part of a shirt, for one order at most. Lengths in ticks; a plain piece has a print of no size.

    `taps` are where it was measured on its photo, in ten-thousandths of the picture; the cut lies
    `shift_x` to the right and `shift_y` below the print's middle.
    """

    class KeptAs(models.TextChoices):
        PRINT = "print", "a print, whole"
        PLAIN = "plain", "plain cloth"
        FEATURE = "feature", "a pocket, cuff or mark"
        STRIP = "strip", "a strip"

    shirt = models.ForeignKey(Shirt, models.PROTECT, related_name="pieces")
    order = models.ForeignKey("orders.Order", models.PROTECT, null=True, blank=True, related_name="pieces")
    side = models.CharField(max_length=24, default="front")
    kept_as = models.CharField(max_length=7, choices=KeptAs.choices, blank=True, default="")
    print_kind = models.CharField(max_length=14, choices=_as_choices(PRINT_KINDS), default="unknown")
    print_width = models.BigIntegerField(default=0)
    print_height = models.BigIntegerField(default=0)
    free_top = models.BigIntegerField(default=0)
    free_right = models.BigIntegerField(default=0)
    free_bottom = models.BigIntegerField(default=0)
    free_left = models.BigIntegerField(default=0)
    sizes_are_usual = models.BooleanField(default=False)
    plus_minus = models.BigIntegerField(default=0)
    measured_how = models.CharField(max_length=40, blank=True)
    taps = models.JSONField(null=True, blank=True)
    shift_x = models.BigIntegerField(default=0)
    shift_y = models.BigIntegerField(default=0)
    wanted = models.CharField(max_length=4, choices=_as_choices(WANTED), default="must")
    why_out = models.CharField(max_length=200, blank=True)
    heavy = models.BooleanField(default=False)
    ground = models.CharField(max_length=7, blank=True)
    ground_is_about = models.BooleanField(default=False)
    palette = models.JSONField(null=True, blank=True)
    photo = models.ForeignKey("orders.Photo", models.PROTECT, null=True, blank=True, related_name="+")
    box = models.JSONField(null=True, blank=True)
    cut_width = models.BigIntegerField(null=True, blank=True)
    cut_height = models.BigIntegerField(null=True, blank=True)

    class Meta:
        ordering = ["shirt__bag", "shirt__number", "side"]
        constraints = [models.UniqueConstraint(fields=["shirt", "side"], name="side_once_per_shirt")]

    def __str__(self) -> str:
        return self.name

    @property
    def name(self) -> str:
        """What it is called within its order, such as 09F."""
        return f"{self.shirt.number:02d}{letters_of(self.side)}"

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
        crop: dict[str, Any] = {"box": self.box}
        if self.shift_x or self.shift_y:
            crop["shift"] = [self.shift_x, self.shift_y]
        return {"shirt": self.shirt_id, "side": self.side, "piece": self.pk, **crop}
