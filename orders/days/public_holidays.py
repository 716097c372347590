"""Public holidays of the shop's country and region, and which of them the shop works."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from functools import lru_cache

from orders.models import DayOff, Shop


def holidays_between(country: str, region: str, first: date, last: date) -> dict[date, str]:
    """Return the public holidays from first to last; none for a country or region nobody knows.

    Days and names are those of the library `holidays`.
    """
    found: dict[date, str] = {}
    for year in range(first.year, last.year + 1):
        found |= {day: name for day, name in _of_year(country, region, year) if first <= day <= last}
    return dict(sorted(found.items()))


@lru_cache(maxsize=64)
def _of_year(country: str, region: str, year: int) -> tuple[tuple[date, str], ...]:
    import holidays  # loaded late: it is large, and most pages of a worker's life begin without it

    try:
        kept = holidays.country_holidays(country, subdiv=region or None, years=year, language="en_US")
    except NotImplementedError:
        return ()
    return tuple(sorted(kept.items()))


@lru_cache(maxsize=8)
def regions_of(country: str) -> tuple[str, ...]:
    """Return the parts of a country that have holidays of their own, as they are written."""
    import holidays

    try:
        return tuple(holidays.country_holidays(country).subdivisions)
    except NotImplementedError:
        return ()


def closed_holidays(shop: Shop, *, origin: date, days: int) -> set[date]:
    """Return the holidays on which the shop does not work."""
    if not shop.keeps_holidays:
        return set()
    found = holidays_between(shop.country, shop.region, origin, origin + timedelta(days=days))
    return found.keys() - worked(shop.worked_holidays)


def why_closed(shop: Shop, day: date) -> str:
    """Return what closes the shop on a day, such as `Christmas Day`; empty where it is open."""
    if day in closed_holidays(shop, origin=day, days=0):
        return holidays_between(shop.country, shop.region, day, day)[day]
    off = DayOff.objects.filter(day=day, person=None).first()
    return (off.words or "a day off") if off else ""


def worked(written: Iterable[str]) -> set[date]:
    """Return the days written down as worked all the same."""
    return {date.fromisoformat(day) for day in written}
