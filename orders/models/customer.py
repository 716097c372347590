"""Who asks for a quilt, pays for it, says yes to it, and gets it."""

from __future__ import annotations

import re
from datetime import date

from django.db import models
from django.db.models import Q
from django.utils import timezone

from orders.guards import FORGOTTEN

from .versioned import Versioned

FEWEST_DIGITS = 6  # a shorter number is no phone


class CustomerQuerySet(models.QuerySet["Customer"]):
    def by_name(self) -> CustomerQuerySet:
        """Whoever is known by name, with how many orders each has."""
        found = self.filter(forgotten_at=None).annotate(orders_here=models.Count("orders", distinct=True))
        return found.order_by("name", "pk")

    def called(self, words: str) -> CustomerQuerySet:
        """Those whose name or way to reach them has these words in it."""
        hits = Q(name__icontains=words) | Q(phone__icontains=words) | Q(email__icontains=words)
        return self.filter(hits) if words else self

    def reached_by(self, reach: str) -> CustomerQuerySet:
        """Those whom a way to reach somebody leads to, whatever else is written around it."""
        digits, mail = re.sub(r"\D", "", reach), next((w for w in reach.split() if "@" in w), "")
        phones = (each for each in self.exclude(phone="") if len(digits) >= FEWEST_DIGITS)
        same = [each.pk for each in phones if re.sub(r"\D", "", each.phone) == digits]
        return self.filter(Q(pk__in=same) | (Q(email__iexact=mail) if mail else Q(pk__in=())))

    def kept_quiet(self, *, on: date) -> CustomerQuerySet:
        """Those whom nothing may reach yet on a day."""
        return self.filter(keep_quiet_until__gt=on)


class Customer(Versioned):
    """A person or household. `keep_quiet_until` is a surprise: nothing may reach them before that day.

    `may_show_pictures` is leave to post the finished quilt, `may_show_names` to let names, faces, schools or
    team numbers be read on it; neither is given unless it was said. Once forgotten, only the number is left.
    """

    name = models.CharField(max_length=120)
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    address = models.TextField(blank=True)
    notes = models.TextField(blank=True)
    may_show_pictures = models.BooleanField(default=False)
    may_show_names = models.BooleanField(default=False)
    keep_quiet_until = models.DateField(null=True, blank=True)
    since = models.DateTimeField(default=timezone.now)
    forgotten_at = models.DateTimeField(null=True, blank=True)

    objects = CustomerQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(forgotten_at=None)
                | Q(email="", phone="", address="", notes="", name__startswith=FORGOTTEN),
                name="forgotten_customer_cannot_be_reached",
            ),
            models.CheckConstraint(
                condition=Q(may_show_names=False) | Q(may_show_pictures=True),
                name="names_are_shown_only_with_pictures",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def reach(self) -> str:
        """One way to reach them."""
        return self.phone or self.email

    def is_quiet(self, *, on: date) -> bool:
        """Say whether nothing may reach them yet on a day."""
        return self.keep_quiet_until is not None and self.keep_quiet_until > on
