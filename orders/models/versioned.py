"""Two phones, one record: a form that is older than the record is refused once, with both states shown."""

from __future__ import annotations

from typing import Any, Self

from django.db import models


class Stale(Exception):
    """The record changed since the form was opened; `now` is how it stands."""

    def __init__(self, now: models.Model) -> None:
        super().__init__("Somebody else changed this while you were typing.")
        self.now = now


class Versioned(models.Model):
    """A record that a second person may edit; every save of a form counts its version up."""

    version = models.PositiveIntegerField(default=1)

    class Meta:
        abstract = True

    def change(self, *, seen: int, **fields: Any) -> Self:
        """Write `fields` if nobody else wrote since version `seen`; else raise Stale."""
        model = type(self)
        changed = model._default_manager.filter(pk=self.pk, version=seen).update(version=seen + 1, **fields)
        self.refresh_from_db()
        if not changed:
            raise Stale(self)
        return self
