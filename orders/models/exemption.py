"""Somebody says that no tax is due on an order: it counts once the proof is here."""

from __future__ import annotations

from typing import Any

from django.db import models, transaction
from django.db.models import Q
from django.utils import timezone

from .event import Event
from .people import Person


class ExemptionQuerySet(models.QuerySet["Exemption"]):
    @transaction.atomic
    def claim(self, order: Any, *, words: str, proof: str, by: Person | None) -> Exemption:
        """Write down that no tax is said to be due, and what proves it when it is here; twice is once."""
        found, is_new = self.get_or_create(order=order, defaults={"words": words})
        if is_new or (found.words, found.proof) != (words, proof):
            found.words, found.proof = words, proof
            found.proved_at = timezone.now() if proof else None
            found.save()
            Event.objects.note("tax exemption", by=by, order=order, words=words, proof=proof)
        return found

    @transaction.atomic
    def drop(self, order: Any, *, by: Person | None) -> None:
        """Take the claim away; tax is on the next quote again."""
        for found in self.filter(order=order):
            Event.objects.note("tax exemption dropped", by=by, order=order, words=found.words)
            found.delete()


class Exemption(models.Model):
    """`words` say why, as the customer put it; `proof` what paper was seen, empty until then."""

    order = models.OneToOneField("orders.Order", models.CASCADE, related_name="exemption")
    words = models.CharField(max_length=160)
    proof = models.CharField(max_length=160, blank=True)
    claimed_at = models.DateTimeField(default=timezone.now)
    proved_at = models.DateTimeField(null=True, blank=True)

    objects = ExemptionQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=(Q(proof="") & Q(proved_at=None)) | (~Q(proof="") & Q(proved_at__isnull=False)),
                name="exemption_counts_with_its_proof",
            )
        ]

    def __str__(self) -> str:
        return self.words
