"""Work for the background: one row an errand, written in the same transaction as its cause."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from django.db import models
from django.db.models import Q
from django.utils import timezone

MOST_ATTEMPTS = 5
# How long an errand rests after its first, second … attempt went wrong.
RESTS = tuple(timedelta(seconds=seconds) for seconds in (5, 30, 120, 600))
STILL_OPEN = ("waiting", "running")


class LeaseLost(Exception):
    """Somebody else has taken the errand over, so nothing of this attempt may be kept."""


class ErrandQuerySet(models.QuerySet["Errand"]):
    def due(self, now: datetime) -> ErrandQuerySet:
        return self.filter(state="waiting", due_at__lte=now).order_by("due_at", "pk")

    def these_first(self, kinds: list[str]) -> ErrandQuerySet:
        """Errands of these kinds before the others, each of both in its turn."""
        rank = models.Case(models.When(kind__in=kinds, then=0), default=1)
        return self.order_by(rank, "due_at", "pk")

    def left_behind(self, now: datetime) -> ErrandQuerySet:
        """Errands whose runner was ended before it could say how it went."""
        return self.filter(state="running", lease_until__lt=now)

    def still_open(self) -> ErrandQuerySet:
        return self.filter(state__in=STILL_OPEN)

    def failed(self) -> ErrandQuerySet:
        return self.filter(state="failed").order_by("-ended_at", "-pk")

    def about(self, kind: str, key: str) -> ErrandQuerySet:
        """Errands of a kind whose key begins with this word, the last one first."""
        return self.filter(kind=kind, key__startswith=f"{kind}: {key} ").order_by("-pk")

    def next_due_at(self) -> datetime | None:
        """Return when the next errand that waits may start."""
        return self.filter(state="waiting").aggregate(first=models.Min("due_at"))["first"]


class Errand(models.Model):
    """`key` is what makes twice once; `lease_until` is the mark of the one attempt that may finish it."""

    class State(models.TextChoices):
        WAITING = "waiting"
        RUNNING = "running"
        DONE = "done"
        FAILED = "failed"
        STOPPED = "stopped"

    kind = models.CharField(max_length=60)
    cause = models.CharField(max_length=120, blank=True)
    key = models.CharField(max_length=200, unique=True)
    payload = models.JSONField(default=dict)
    state = models.CharField(max_length=8, choices=State.choices, default=State.WAITING)
    due_at = models.DateTimeField()
    lease_until = models.DateTimeField(null=True)
    attempts = models.PositiveSmallIntegerField(default=0)
    progress = models.CharField(max_length=200, blank=True)
    stop_asked = models.BooleanField(default=False)
    outcome = models.TextField(blank=True)
    sent_at = models.DateTimeField(default=timezone.now)
    ended_at = models.DateTimeField(null=True)

    objects = ErrandQuerySet.as_manager()

    class Meta:
        indexes = [models.Index(fields=["state", "due_at"], name="errand_due")]
        constraints = [
            models.CheckConstraint(
                condition=Q(state__in=["waiting", "running", "done", "failed", "stopped"]),
                name="errand_state_known",
            ),
            models.CheckConstraint(
                condition=Q(state="running", lease_until__isnull=False)
                | (~Q(state="running") & Q(lease_until__isnull=True)),
                name="errand_leased_while_running",
            ),
            models.CheckConstraint(condition=~Q(key=""), name="errand_has_a_key"),
        ]

    def __str__(self) -> str:
        return self.key

    @property
    def is_open(self) -> bool:
        """Say whether it has still to come to an end."""
        return self.state in STILL_OPEN

    def claim(self, *, now: datetime, seconds: int) -> bool:
        """Take the errand for one attempt, unless another runner was quicker."""
        waiting = Errand.objects.filter(pk=self.pk, state="waiting", attempts=self.attempts)
        lease = now + timedelta(seconds=seconds)
        taken = waiting.update(
            state="running", lease_until=lease, attempts=self.attempts + 1, progress="", outcome=""
        )
        if taken:
            self.refresh_from_db()
        return bool(taken)

    def finish(self, words: str) -> None:
        """Say it is done. Called in the transaction of its effect, both stand or fall together."""
        self._settle(state="done", outcome=words, ended_at=timezone.now())

    def fail(self, words: str) -> None:
        """Say for good that it cannot be done."""
        self._settle(state="failed", outcome=words, ended_at=timezone.now())

    def end_early(self, words: str) -> None:
        """Say that it was stopped because somebody asked for it."""
        self._settle(state="stopped", outcome=words, ended_at=timezone.now(), stop_asked=False)

    def try_later(self, words: str, *, now: datetime) -> None:
        """Put it back for another attempt, after a rest; the fifth attempt was the last."""
        if self.attempts >= MOST_ATTEMPTS:
            self.fail(f"{words} It was tried {self.attempts} times.")
        else:
            self._settle(state="waiting", outcome=words, due_at=now + RESTS[self.attempts - 1])

    def rest(self, words: str, *, until: datetime) -> None:
        """Put it back until a moment that its work has named; such an attempt is none of the five."""
        self._settle(state="waiting", attempts=self.attempts - 1, outcome=words, due_at=until)

    def put_back(self) -> None:
        """Put it back untried, because the site is closing."""
        self._settle(state="waiting", attempts=self.attempts - 1)

    def say(self, progress: str) -> None:
        """Tell how far it is."""
        self._hold(progress=progress[:200])

    def keep(self, progress: str, **found: Any) -> None:
        """Tell how far it is, and keep what it has come to, so that stopping loses nothing."""
        self._hold(progress=progress[:200], payload={**self.payload, **found})

    def ask_to_stop(self) -> None:
        """Stop it: at once while it waits, within a second while it runs."""
        waiting = Errand.objects.filter(pk=self.pk, state="waiting")
        if not waiting.update(state="stopped", outcome="Stopped before it began.", ended_at=timezone.now()):
            Errand.objects.filter(pk=self.pk, state="running").update(stop_asked=True)
        self.refresh_from_db()

    def run_again(self) -> None:
        """Let one that failed or was stopped have its five attempts anew."""
        over = Errand.objects.filter(pk=self.pk, state__in=["failed", "stopped"])
        over.update(state="waiting", attempts=0, due_at=timezone.now(), ended_at=None, stop_asked=False)
        self.refresh_from_db()

    def _settle(self, **fields: Any) -> None:
        self._hold(lease_until=None, **fields)

    def _hold(self, **fields: Any) -> None:
        """Write only while this attempt still holds the errand."""
        held = Errand.objects.filter(pk=self.pk, state="running", lease_until=self.lease_until)
        if not held.update(**fields):
            raise LeaseLost(f"{self} was taken over.")
        self.refresh_from_db()
