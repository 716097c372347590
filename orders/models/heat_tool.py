"""The irons and presses of the shop: what each can be set to, and by how much it runs off."""

from __future__ import annotations

from django.db import models, transaction
from django.db.models import Q
from django.utils import timezone

from planner.care import Tool

from .event import Event
from .people import Person
from .versioned import Versioned


class HeatToolQuerySet(models.QuerySet["HeatTool"]):
    def in_use(self) -> HeatToolQuerySet:
        """Tools that stand ready, the usual one first."""
        return self.filter(away_at=None).order_by("-is_usual", "pk")

    def the_usual(self) -> Tool:
        """Return the tool pieces are pressed with unless another is taken; an iron where none is listed."""
        first = self.in_use().first()
        return first.as_tool() if first else Tool("iron")


class HeatTool(Versioned):
    """An iron with dots or a press with degrees; degrees are those of its own display."""

    class Kind(models.TextChoices):
        IRON = "iron", "An iron with dots"
        PRESS = "press", "A press with degrees"

    class Unit(models.TextChoices):
        FAHRENHEIT = "F", "°F"
        CELSIUS = "C", "°C"

    name = models.CharField(max_length=40, unique=True)
    kind = models.CharField(max_length=6, choices=Kind.choices, default=Kind.IRON)
    unit = models.CharField(max_length=1, choices=Unit.choices, default=Unit.FAHRENHEIT)
    hotter = models.SmallIntegerField(default=0)
    least = models.PositiveSmallIntegerField(default=0)
    most = models.PositiveSmallIntegerField(default=0)
    step = models.PositiveSmallIntegerField(default=5)
    is_usual = models.BooleanField(default=False)
    away_at = models.DateTimeField(null=True, blank=True)

    objects = HeatToolQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(kind="iron") | Q(step__gt=0, least__gt=0, most__gte=models.F("least")),
                name="press_has_its_degrees",
            ),
            models.UniqueConstraint(
                fields=["is_usual"], condition=Q(is_usual=True, away_at=None), name="one_usual_heat_tool"
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def as_tool(self) -> Tool:
        """Return the tool as the planner sees it."""
        if self.kind == HeatTool.Kind.IRON:
            return Tool(self.name, unit=self.unit, hotter=self.hotter)
        return Tool(self.name, self.kind, self.unit, self.hotter, self.least, self.most, self.step)

    @transaction.atomic
    def be_usual(self, *, by: Person) -> None:
        """Press with this one from now on unless another is taken."""
        if not self.is_usual:
            HeatTool.objects.filter(is_usual=True).update(is_usual=False)
            self.is_usual = True
            self.save(update_fields=["is_usual"])
            Event.objects.note("usual heat tool", by=by, tool=self)

    @transaction.atomic
    def put_away(self, *, by: Person) -> None:
        """Put it away; the next one becomes the usual."""
        if self.away_at is None:
            self.away_at, self.is_usual = timezone.now(), False
            self.save(update_fields=["away_at", "is_usual"])
            Event.objects.note("heat tool put away", by=by, tool=self)
