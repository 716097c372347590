"""Who asks for a quilt, pays for it, says yes to it, and gets it."""

from __future__ import annotations

from django.db import models
from django.utils import timezone

from .versioned import Versioned


class Customer(Versioned):
    """A person or household. `keep_quiet_until` is a surprise: nothing may reach them before that day."""

    name = models.CharField(max_length=120)
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    address = models.TextField(blank=True)
    notes = models.TextField(blank=True)
    may_show_pictures = models.BooleanField(default=False)
    keep_quiet_until = models.DateField(null=True, blank=True)
    since = models.DateTimeField(default=timezone.now)

    def __str__(self) -> str:
        return self.name

    @property
    def reach(self) -> str:
        """One way to reach them."""
        return self.phone or self.email
