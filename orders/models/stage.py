"""The work on an order, stage by stage: what it should take, what it took, who has it in hand."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.db import models, transaction
from django.db.models import Q
from django.utils import timezone

from .event import Event
from .people import Person
from .versioned import Versioned


class StageQuerySet(models.QuerySet["Stage"]):
    def to_do(self) -> StageQuerySet:
        return self.filter(done_at=None)

    def of_open_orders(self) -> StageQuerySet:
        """Stages of what is still in the workroom, each with its order."""
        return self.filter(order__handed_over_at=None, order__cancelled_at=None).select_related("order")

    def running(self) -> StageQuerySet:
        return self.filter(started_at__isnull=False, done_at=None)

    def to_be_told(
        self, person: Person, *, midnight: datetime, since: datetime
    ) -> tuple[StageQuerySet, StageQuerySet]:
        """Stages of a person whose clock was forgotten and who was not asked yet, the newest first.

        Those that are done and those that are not, apart: asked for both at once, a database reads through
        all that the person ever did.
        """
        hers = self.filter(person=person, order__cancelled_at=None).select_related("order")
        forgotten = Q(clock=Stage.Clock.FORGOTTEN)
        done = hers.filter(forgotten, done_at__gte=since).order_by("-done_at", "-started_at", "-pk")
        undone = hers.filter(forgotten | Q(started_at__lt=midnight), done_at=None)
        return done, undone.order_by("-started_at", "-pk")

    def with_known_minutes(self) -> StageQuerySet:
        """Finished stages whose minutes were clocked or told, the earliest first."""
        known = self.filter(done_at__isnull=False, minutes__gt=0, spent__gt=0)
        return known.filter(clock__in=(Stage.Clock.RAN, Stage.Clock.TOLD)).order_by("done_at", "pk")


LONGEST_SITTING = 12 * 60  # minutes; a clock that ran longer was forgotten (common practice)


class Stage(Versioned):
    """One stage of one order. Minutes are whole; `spent` grows when it is paused or done.

    `standard` is what it takes by the standard minutes, before the shop's own history bent them; 0 where
    not known. `batch` names what it is done together with: stages of one kind with the same batch.
    """

    class Clock(models.TextChoices):
        RAN = "", "ran"
        FORGOTTEN = "forgotten", "forgotten"
        TOLD = "told", "told afterwards"
        NOT_KNOWN = "not known", "not known any more"

    order = models.ForeignKey("orders.Order", models.CASCADE, related_name="stages")
    kind = models.CharField(max_length=20)
    position = models.PositiveSmallIntegerField()
    minutes = models.PositiveIntegerField()
    spent = models.PositiveIntegerField(default=0)
    standard = models.PositiveIntegerField(default=0)
    clock = models.CharField(max_length=10, choices=Clock.choices, default=Clock.RAN, blank=True)
    batch = models.CharField(max_length=40, blank=True)
    person = models.ForeignKey(Person, models.PROTECT, null=True, blank=True, related_name="stages")
    pinned_for = models.DateField(null=True, blank=True)
    planned_for = models.DateField(null=True, blank=True)
    waits_until = models.DateField(null=True, blank=True)
    started_at = models.DateTimeField(null=True, blank=True)
    done_at = models.DateTimeField(null=True, blank=True)

    objects = StageQuerySet.as_manager()

    class Meta:
        ordering = ["order", "position"]
        indexes = [
            models.Index(fields=["done_at"], name="stages_done"),
            models.Index(fields=["person", "done_at"], name="stages_done_by"),
        ]
        constraints = [
            models.UniqueConstraint(fields=["order", "kind"], name="stage_once_per_order"),
            models.CheckConstraint(
                condition=Q(done_at=None) | Q(started_at=None), name="stage_running_or_done"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.kind} of {self.order}"

    @property
    def left(self) -> int:
        """Minutes still to do."""
        return 0 if self.done_at else max(0, self.minutes - self.spent)

    @transaction.atomic
    def start(self, *, by: Person, now: datetime | None = None) -> None:
        """Begin, or go on; starting twice is starting once."""
        if self.started_at is None and self.done_at is None:
            self.started_at, self.person = now or timezone.now(), by
            self.save(update_fields=["started_at", "person"])
            Event.objects.note("started", by=by, order=self.order, stage=self.kind)

    @transaction.atomic
    def pause(self, *, by: Person, now: datetime | None = None) -> None:
        """Lay it down; the minutes since the start are counted."""
        if self.started_at is not None:
            self._count_minutes(now)
            self.save(update_fields=["spent", "started_at", "clock"])
            Event.objects.note("laid down", by=by, order=self.order, stage=self.kind)

    @transaction.atomic
    def finish(self, *, by: Person, now: datetime | None = None) -> None:
        """Done. A stage that never ran counts its estimate, so that a forgotten clock is no zero."""
        if self.done_at is None:
            ran = self.started_at is not None or self.spent > 0
            self._count_minutes(now)
            if not ran:
                self.clock = Stage.Clock.FORGOTTEN
            if self.clock == Stage.Clock.FORGOTTEN:
                self.spent = max(self.spent, self.minutes)
            self.done_at, self.person = now or timezone.now(), by
            self.save(update_fields=["spent", "started_at", "done_at", "person", "clock"])
            Event.objects.note("done", by=by, order=self.order, stage=self.kind)

    @transaction.atomic
    def undo(self, *, by: Person) -> None:
        """Take a Done back, unless the next stage has begun."""
        later = self.order.stages.filter(position__gt=self.position).filter(
            Q(started_at__isnull=False) | Q(spent__gt=0)
        )
        if self.done_at is not None and later.exists():
            raise ValueError("The next stage has begun. Take that back first.")
        if self.done_at is not None:
            self.done_at = None
            if self.clock == Stage.Clock.FORGOTTEN:  # the estimate stood for minutes nobody clocked
                self.spent, self.clock = 0, Stage.Clock.RAN
            self.save(update_fields=["done_at", "spent", "clock"])
            Event.objects.note("not done after all", by=by, order=self.order, stage=self.kind)

    @transaction.atomic
    def tell_minutes(self, minutes: int | None, *, by: Person) -> None:
        """Keep what it took all in all, told because the clock was forgotten; None: nobody knows any more."""
        if minutes is not None:
            self.spent = minutes
        self.clock = Stage.Clock.NOT_KNOWN if minutes is None else Stage.Clock.TOLD
        self.started_at = None
        self.save(update_fields=["spent", "clock", "started_at"])
        Event.objects.note("minutes told", by=by, order=self.order, stage=self.kind, minutes=minutes)

    def _count_minutes(self, now: datetime | None) -> None:
        if self.started_at is None:
            return
        ran = max(0, round(((now or timezone.now()) - self.started_at).total_seconds() / 60))
        self.started_at = None
        if ran > LONGEST_SITTING:
            self.clock = Stage.Clock.FORGOTTEN
        else:
            self.spent += ran


class VisitQuerySet(models.QuerySet["Visit"]):
    def between(self, start: datetime, end: datetime) -> VisitQuerySet:
        """Who comes from one moment to another, by the clock, with what they come for."""
        return self.filter(at__gte=start, at__lt=end).select_related("order", "enquiry").order_by("at")

    def to_come(self, now: datetime) -> VisitQuerySet:
        """Who is expected from now on."""
        found = self.filter(at__gte=now, came_at=None).select_related("order", "enquiry", "opens_the_door")
        return found.order_by("at")

    @transaction.atomic
    def book(self, *, by: Person, **visit: Any) -> Visit:
        """Book a visit; the same one asked for twice stands once."""
        made, is_new = self.get_or_create(**visit)
        if is_new:
            Event.objects.note("visit booked", by=by, order=made.order, at=made.at, kind=made.kind)
        return made


class Visit(models.Model):
    """Somebody comes to the door: to bring, to look, or to collect."""

    class Kind(models.TextChoices):
        DROP_OFF = "drop-off"
        LOOK = "look"
        COLLECTION = "collection"

    order = models.ForeignKey("orders.Order", models.CASCADE, null=True, blank=True, related_name="visits")
    enquiry = models.ForeignKey(
        "orders.Enquiry", models.CASCADE, null=True, blank=True, related_name="visits"
    )
    kind = models.CharField(max_length=10, choices=Kind.choices)
    at = models.DateTimeField()
    minutes = models.PositiveSmallIntegerField(default=15)
    opens_the_door = models.ForeignKey(Person, models.PROTECT, null=True, blank=True, related_name="+")
    came_at = models.DateTimeField(null=True, blank=True)

    objects = VisitQuerySet.as_manager()

    def __str__(self) -> str:
        return f"{self.kind} {self.at}"

    @transaction.atomic
    def move(self, at: datetime, *, by: Person) -> None:
        """Put it on another moment."""
        if self.at != at:
            before, self.at = self.at, at
            self.save(update_fields=["at"])
            Event.objects.note("visit moved", by=by, order=self.order, at=at, before=before)

    @transaction.atomic
    def came(self, *, by: Person) -> None:
        """They were here."""
        if self.came_at is None:
            self.came_at = timezone.now()
            self.save(update_fields=["came_at"])
            Event.objects.note("came", by=by, order=self.order, kind=self.kind)

    @transaction.atomic
    def call_off(self, *, by: Person) -> None:
        """They do not come."""
        Event.objects.note("visit called off", by=by, order=self.order, at=self.at, kind=self.kind)
        self.delete()
