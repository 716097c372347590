"""How a cloth is cut for a quilt, kept once reckoned: paper and bench name the same strips."""

from __future__ import annotations

from django.db import models
from django.utils import timezone


class CutSheet(models.Model):
    """One cloth's strips; `inputs` is the hash of all that went in: cloth as it lies, pieces, search.

    Another layout, another measure or another piece on the shelf has another hash, so an old sheet is
    never shown for it.
    """

    order = models.ForeignKey("orders.Order", models.CASCADE, related_name="cut_sheets")
    cloth = models.CharField(max_length=80)
    inputs = models.CharField(max_length=64)
    strips = models.JSONField()
    bound = models.BigIntegerField()
    scope = models.CharField(max_length=200, blank=True)
    made_at = models.DateTimeField(default=timezone.now)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["order", "inputs"], name="one_sheet_of_the_same_cloth")
        ]

    def __str__(self) -> str:
        return f"{self.cloth} for {self.order}"
