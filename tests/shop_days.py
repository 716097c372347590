"""Moments on the shop's own days. Days counted in hours of UTC come out one short or long
wherever midnight of the shop lies between, or a change of its clocks."""

from __future__ import annotations

from datetime import datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo


def noon_of(shop: Any, *, days_ago: int) -> datetime:
    """Return noon of the shop's day so many days ago, one at least: noon of today may be to come."""
    if days_ago < 1:
        raise ValueError("Noon of today may be to come.")
    day = shop.today() - timedelta(days=days_ago)
    return datetime.combine(day, time(12), ZoneInfo(shop.time_zone))
