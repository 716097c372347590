"""What was shown when the yes to a picture was asked for, and whether blocks may move for balance."""

from __future__ import annotations

from typing import Any

from django.db import models, transaction
from django.db.models import Q
from django.utils import timezone

from .consent import Consent
from .design import DesignVersion
from .event import Event
from .order import Order
from .people import Person


class AskedPicture(models.Model):
    """A version as she saw it: panels, cloth, what was left out and why, the compromises. Never changed."""

    version = models.OneToOneField(DesignVersion, models.CASCADE, related_name="picture")
    shown = models.JSONField()

    def __str__(self) -> str:
        return f"Picture {self.version.number}"


class LeaveToMoveQuerySet(models.QuerySet["LeaveToMove"]):
    @transaction.atomic
    def answer(self, order: Order, may: bool, *, said_by: str, how: str, by: Person | None) -> LeaveToMove:
        """Write down whether equal blocks may trade places; it is asked once, so the first answer stands."""
        said = {"may": may and not order.memorial, "said_by": said_by, "how": how, "written_by": by}
        leave, is_new = self.get_or_create(order=order, defaults=said)
        if is_new:
            Event.objects.note("asked to move blocks", by=by, order=order, may=leave.may, said_by=said_by)
        return leave


class LeaveToMove(models.Model):
    """Whether equal blocks may trade places for balance without a new yes. It is asked once for an order."""

    order = models.OneToOneField(Order, models.CASCADE, related_name="leave_to_move")
    may = models.BooleanField()
    said_by = models.CharField(max_length=120)
    how = models.CharField(max_length=8, choices=Consent.How.choices)
    at = models.DateTimeField(default=timezone.now)
    written_by = models.ForeignKey(Person, models.PROTECT, null=True, blank=True, related_name="+")

    objects = LeaveToMoveQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=~Q(said_by=""), name="leave_to_move_said_by_somebody")
        ]

    def __str__(self) -> str:
        return f"{self.said_by}: {'blocks may move' if self.may else 'each block stays'}"


def may_move(order: Order) -> bool:
    """Say whether equal blocks of an order may trade places without a new yes; never of a memorial."""
    leave: Any = getattr(order, "leave_to_move", None)
    return leave is not None and leave.may and not order.memorial
