"""What went wrong: what, when, at which setting, with its picture; nobody is asked whose fault it was."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from django.db import models, transaction
from django.db.models import Q
from django.utils import timezone

from .event import Event
from .people import Person
from .versioned import Versioned

if TYPE_CHECKING:
    from .order import Order


class IncidentQuerySet(models.QuerySet["Incident"]):
    def of(self, order: Order) -> IncidentQuerySet:
        """The incidents of an order, the newest first."""
        return self.filter(order=order).with_all().order_by("-at", "-pk")

    def unsettled(self) -> IncidentQuerySet:
        """Incidents that somebody still has to do something about, the oldest first."""
        return self.filter(settled_at=None).with_all().order_by("at", "pk")

    def stopping(self) -> IncidentQuerySet:
        """Incidents whose batch waits until the owner says go on."""
        return self.filter(went_on_at=None).exclude(stopped=[])

    def for_papers(self) -> IncidentQuerySet:
        """Those that were chosen to stand on papers."""
        return self.filter(on_papers=True)

    def with_all(self) -> IncidentQuerySet:
        return self.select_related("order", "shirt", "piece__shirt", "by").prefetch_related("photos")


class Incident(Versioned):
    """One thing that went wrong. `stopped` are the cells whose batch waits; `setting` is what was shown."""

    class What(models.TextChoices):
        MELTED = "melted", "Melted"
        CUT_WRONG = "cut wrong", "Cut wrong"
        STAINED = "stained", "Stained"
        MISSING = "missing", "Missing"
        NEEDLE = "needle", "Needle broke"
        OTHER = "other", "Other"

    class Outcome(models.TextChoices):
        OPEN = "", "not settled yet"
        KEPT = "kept", "damaged and kept"
        MENDED = "mended", "mended"
        WELL = "well", "all was well"
        RECUT = "recut", "cut again"
        MADE_UP = "makeup", "made up from what is left"
        LAYOUT = "layout", "laid out anew"

    class How(models.TextChoices):
        PERSON = "person", "In person"
        PHONE = "phone", "On the phone"
        MESSAGE = "message", "In a message"

    what = models.CharField(max_length=10, choices=What.choices)
    order = models.ForeignKey("orders.Order", models.PROTECT, related_name="incidents")
    shirt = models.ForeignKey("orders.Shirt", models.PROTECT, null=True, related_name="incidents")
    piece = models.ForeignKey("orders.Piece", models.PROTECT, null=True, related_name="incidents")
    cell = models.CharField(max_length=20, blank=True)
    stage = models.CharField(max_length=20, blank=True)
    setting = models.JSONField(default=dict, blank=True)
    turned_to = models.CharField(max_length=80, blank=True)
    words = models.TextField(blank=True)
    stopped = models.JSONField(default=list, blank=True)
    all_found = models.BooleanField(null=True, blank=True)
    at = models.DateTimeField(default=timezone.now)
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    went_on_at = models.DateTimeField(null=True, blank=True)
    told_at = models.DateTimeField(null=True, blank=True)
    told_how = models.CharField(max_length=8, choices=How.choices, blank=True)
    told_words = models.TextField(blank=True)
    answer = models.TextField(blank=True)
    on_papers = models.BooleanField(default=False)
    outcome = models.CharField(max_length=6, choices=Outcome.choices, blank=True, default="")
    settled_at = models.DateTimeField(null=True, blank=True)
    client_id = models.CharField(max_length=64, null=True, unique=True, editable=False)

    objects = IncidentQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(settled_at=None, outcome="") | Q(settled_at__isnull=False) & ~Q(outcome=""),
                name="settled_incident_has_an_outcome",
            )
        ]

    def __str__(self) -> str:
        return f"{self.name}: {self.get_what_display().lower()}"

    @property
    def name(self) -> str:
        """What it happened to: 31-09F, 31-09, or block 07 of an order."""
        if self.piece:
            return f"{self.order.number}-{self.piece.name}"
        if self.shirt:
            return f"{self.order.number}-{self.shirt}"
        return f"{self.order.number} block {self.cell}" if self.cell else f"No. {self.order.number}"

    @property
    def needs_telling(self) -> bool:
        """Say whether the customer has not heard of it; nothing wrong needs no telling."""
        return self.told_at is None and self.outcome != Incident.Outcome.WELL

    @transaction.atomic
    def tell(self, *, how: str, words: str, by: Person, at: datetime | None = None) -> None:
        """Write down that the customer was told; told twice, the first time stands."""
        now = Incident.objects.select_for_update().get(pk=self.pk)
        if now.told_at is None:
            self.told_at, self.told_how, self.told_words = at or timezone.now(), how, words
            self.save(update_fields=["told_at", "told_how", "told_words"])
            Event.objects.note("told of an incident", by=by, order=self.order, incident=self.pk, how=how)

    @transaction.atomic
    def show_on_papers(self, shown: bool, *, by: Person) -> None:
        """Let papers speak of it, or no longer."""
        if self.on_papers != shown:
            self.on_papers = shown
            self.save(update_fields=["on_papers"])
            Event.objects.note("incident on papers", by=by, order=self.order, incident=self.pk, shown=shown)
