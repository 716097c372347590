"""A mail the shop sends itself, from the tap that sends it to the mail server's answer."""

from __future__ import annotations

from typing import Any

from django.db import models, transaction
from django.db.models import Q
from django.utils import timezone

from .event import Event
from .people import Person


class MailQuerySet(models.QuerySet["Mail"]):
    def troubled(self) -> MailQuerySet:
        """Mails the owner has to know of: tried in vain, refused, or not known whether they went."""
        in_vain = Q(state=Mail.State.WAITING, tries__gte=1)
        over = Q(state__in=[Mail.State.UNSURE, Mail.State.REFUSED], seen_at=None)
        return self.filter(in_vain | over).select_related("order", "enquiry").order_by("written_at", "pk")

    def on_their_way(self) -> MailQuerySet:
        """Mails that have not come to an end."""
        return self.filter(state__in=[Mail.State.WAITING, Mail.State.GOING])


class Mail(models.Model):
    """Words to one address. `key` is what makes twice once; `tries` counts attempts, also those in vain."""

    class State(models.TextChoices):
        WAITING = "waiting", "On its way out"
        GOING = "going", "Being handed to the mail server"
        SENT = "sent", "Handed to the mail server"
        UNSURE = "unsure", "Not known whether it went"
        REFUSED = "refused", "Not sent"
        TAKEN_BACK = "taken back", "Taken back"

    order = models.ForeignKey("orders.Order", models.PROTECT, null=True, related_name="mails")
    enquiry = models.ForeignKey("orders.Enquiry", models.PROTECT, null=True, related_name="mails")
    kind = models.CharField(max_length=20)
    to = models.CharField(max_length=120)
    address = models.EmailField()
    subject = models.CharField(max_length=120)
    words = models.TextField()
    key = models.CharField(max_length=80, unique=True)
    state = models.CharField(max_length=10, choices=State.choices, default=State.WAITING)
    tries = models.PositiveSmallIntegerField(default=0)
    why = models.CharField(max_length=200, blank=True)
    by = models.ForeignKey(Person, models.PROTECT, null=True, related_name="+")
    written_at = models.DateTimeField(default=timezone.now)
    gone_at = models.DateTimeField(null=True)
    seen_at = models.DateTimeField(null=True)

    objects = MailQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(order__isnull=False, enquiry=None) | Q(order=None, enquiry__isnull=False),
                name="mail_is_about_one_thing",
            ),
            models.CheckConstraint(condition=~Q(words="") & ~Q(address=""), name="mail_has_words"),
        ]

    def __str__(self) -> str:
        return f"Mail to {self.to}"

    @property
    def is_open(self) -> bool:
        """Say whether it has still to go."""
        return self.state in (Mail.State.WAITING, Mail.State.GOING)

    def begin(self) -> None:
        """Count an attempt."""
        self._move(Mail.State.WAITING, tries=self.tries + 1)

    def go(self) -> None:
        """Say, before the first byte of the words leaves, that they may have left."""
        self._move(Mail.State.WAITING, state=Mail.State.GOING)

    def wait(self, why: str) -> None:
        """Say that nothing of it left, and why."""
        self._move(self.state, state=Mail.State.WAITING, why=why[:200])

    def refuse(self, why: str) -> None:
        """Say that the mail server will not have it, or did not answer for too long."""
        self._end(Mail.State.REFUSED, why)

    def doubt(self, why: str) -> None:
        """Say that nobody knows whether it went; it is not sent again without a tap."""
        self._end(Mail.State.UNSURE, why)

    def arrive(self) -> None:
        """Say that the mail server took it."""
        self._end(Mail.State.SENT, "", gone_at=timezone.now())

    @transaction.atomic
    def take_back(self, *, by: Person) -> bool:
        """Keep it from going, as long as it has not; say whether that was in time."""
        in_time = Mail.objects.filter(pk=self.pk, state=Mail.State.WAITING).update(
            state=Mail.State.TAKEN_BACK
        )
        if in_time:
            Event.objects.note("mail taken back", by=by, order=self.order, mail=self.pk)
        self.refresh_from_db()
        return bool(in_time)

    def put_away(self) -> None:
        """Take it off Today."""
        Mail.objects.filter(pk=self.pk, seen_at=None).update(seen_at=timezone.now())
        self.refresh_from_db()

    @transaction.atomic
    def _end(self, state: str, why: str, **more: Any) -> None:
        self._move(self.state, state=state, why=why[:200], **more)
        Event.objects.note(f"mail {state}", by=self.by, order=self.order, mail=self.pk)

    def _move(self, before: str, **fields: Any) -> None:
        if not Mail.objects.filter(pk=self.pk, state=before).update(**fields):
            raise Moved(f"{self} is no longer {before}.")
        self.refresh_from_db()


class Moved(Exception):
    """Somebody took the mail back, or another attempt has it."""
