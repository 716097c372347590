"""The demo plays its plot on days that are past: for as long as a scene lasts, the clock stands there."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from unittest.mock import patch
from zoneinfo import ZoneInfo

from django.apps import apps
from django.db.models import Field
from django.utils import timezone

ZONE = ZoneInfo("America/New_York")  # the demo shop's: its evening is the next day in UTC


@contextmanager
def days_ago(days: int, *, hour: int = 11) -> Iterator[None]:
    """Set the clock to an hour of a past day of the demo shop, for this process alone."""
    now = timezone.now()
    then = (now.astimezone(ZONE) - timedelta(days=days)).replace(
        hour=hour, minute=10, second=0, microsecond=0
    )
    with standing_at(min(then.astimezone(UTC), now)):
        yield


@contextmanager
def standing_at(moment: datetime) -> Iterator[None]:
    """Set the clock to a moment, for this process alone; it stands there, and tells UTC as clocks here do."""
    there = moment.astimezone(UTC)
    with running_by(lambda: there):
        yield


@contextmanager
def running_by(now: Callable[[], datetime]) -> Iterator[None]:
    """Let another clock tell the time, for this process alone."""
    before = timezone.now
    stamped = [
        field for model in apps.get_models() for field in model._meta.fields if field.default is before
    ]
    try:
        for field in stamped:
            _set_default(field, now)
        with patch.object(timezone, "now", now):
            yield
    finally:
        for field in stamped:
            _set_default(field, before)


def _set_default(field: Field, now: object) -> None:
    field.default = now
    field.__dict__.pop("_get_default", None)  # Django keeps the default it found first
