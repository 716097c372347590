"""A gift certificate: money owed to whoever brings it, until it is used up."""

from __future__ import annotations

from typing import Any

from django.db import models
from django.db.models import F, Q, Sum
from django.utils import timezone

from .ledger import Account
from .people import Person


class CertificateQuerySet(models.QuerySet["Certificate"]):
    def with_left(self) -> Any:
        """Bring along what each was sold for and what is left on it, in one query."""
        out = Sum(
            "entries__postings__minor", filter=Q(entries__postings__out_of=Account.CERTIFICATES), default=0
        )
        back = Sum(
            "entries__postings__minor", filter=Q(entries__postings__into=Account.CERTIFICATES), default=0
        )
        return self.annotate(put_on=out, used=back).annotate(left=F("put_on") - F("used")).order_by("-number")

    def left_on(self, certificate: Certificate) -> int:
        """Return what is left on one, in minor units."""
        return sum(each.left for each in self.with_left().filter(pk=certificate.pk))


class Certificate(models.Model):
    """Its number and whom it is from and for; what is left on it is read off the postings. It has no end."""

    number = models.PositiveIntegerField(unique=True)
    bought_by = models.CharField(max_length=120)
    given_to = models.CharField(max_length=120, blank=True)
    sold_on = models.DateField()
    at = models.DateTimeField(default=timezone.now)
    by = models.ForeignKey(Person, models.PROTECT, null=True, related_name="+")

    objects = CertificateQuerySet.as_manager()

    def __str__(self) -> str:
        return f"Gift certificate {self.number}"
