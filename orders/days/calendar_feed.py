"""The shop's calendar for a phone: hand-overs as whole days, visits by the clock, what is expected back.

Written after RFC 5545: lines end in CRLF and are folded at 75 octets, texts are escaped, a whole day
ends on the day after it. Only numbers and stages are told, no names and no places, for a calendar is
read on screens that others see.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from orders.models import Order, Shop, Trip, Visit

CRLF = "\r\n"
OCTETS = 75
PAST = timedelta(days=60)  # how far back visits are told


@dataclass(frozen=True)
class Entry:
    """One event. `start` is a day, or a moment with `minutes`; `mark` names it for good."""

    mark: str
    words: str
    start: date | datetime
    minutes: int = 0


def entries(shop: Shop, *, now: datetime) -> Iterator[Entry]:
    """Yield what the calendar tells, in three queries."""
    for order in Order.objects.in_the_workroom().order_by("number"):
        day = order.promised_for or order.needed_by
        if day is not None:
            yield Entry(f"order-{order.pk}-hand-over", f"No. {order.number} hand-over", day)
    for visit in Visit.objects.filter(at__gte=now - PAST).select_related("order").order_by("at", "pk"):
        number = f"No. {visit.order.number} " if visit.order else ""
        yield Entry(f"visit-{visit.pk}", f"{number}{visit.kind}", visit.at, visit.minutes)
    for trip in Trip.objects.under_way():
        words = f"No. {trip.order.number} expected, then {trip.waits}"
        yield Entry(f"trip-{trip.pk}", words, trip.expected_on)


def calendar_text(shop: Shop, *, now: datetime) -> str:
    """Return the whole calendar as its file."""
    return as_calendar(shop, entries(shop, now=now), now=now)


def as_calendar(shop: Shop, events: Iterable[Entry], *, now: datetime) -> str:
    """Return events as a file of a calendar."""
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//Batting Order//Calendar//EN",
        "CALSCALE:GREGORIAN",
        f"X-WR-CALNAME:{escaped(shop.name)}",
    ]
    for entry in events:
        lines += _event(entry, shop, now)
    return CRLF.join(folded(line) for line in [*lines, "END:VCALENDAR", ""])


def _event(entry: Entry, shop: Shop, now: datetime) -> list[str]:
    return [
        "BEGIN:VEVENT",
        f"UID:{entry.mark}@{shop_mark(shop)}",
        f"DTSTAMP:{_moment(now)}",
        *_span(entry),
        f"SUMMARY:{escaped(entry.words)}",
        "TRANSP:TRANSPARENT" if not isinstance(entry.start, datetime) else "TRANSP:OPAQUE",
        "END:VEVENT",
    ]


def _span(entry: Entry) -> list[str]:
    if isinstance(entry.start, datetime):
        end = entry.start + timedelta(minutes=entry.minutes)
        return [f"DTSTART:{_moment(entry.start)}", f"DTEND:{_moment(end)}"]
    after = entry.start + timedelta(days=1)
    return [f"DTSTART;VALUE=DATE:{entry.start:%Y%m%d}", f"DTEND;VALUE=DATE:{after:%Y%m%d}"]


def _moment(at: datetime) -> str:
    return f"{at.astimezone(UTC):%Y%m%dT%H%M%SZ}"


def shop_mark(shop: Shop) -> str:
    """Return what tells this shop's events from those of any other, without telling where it is."""
    return f"{shop.mark}.batting-order"


def escaped(text: str) -> str:
    """Return a text as a value: backslash, semicolon, comma and line ends escaped (RFC 5545, 3.3.11).

    Other control characters may not stand in it, so each becomes a space.
    """
    text = "\n".join(text.splitlines())
    for plain, written in (("\\", "\\\\"), (";", "\\;"), (",", "\\,"), ("\n", "\\n")):
        text = text.replace(plain, written)
    return "".join(" " if unicodedata.category(letter) == "Cc" else letter for letter in text)


def folded(line: str) -> str:
    """Return a line in parts of at most 75 octets, no letter cut in two (RFC 5545, 3.1)."""
    parts, part, used = [], "", 0
    for letter in line:
        size = len(letter.encode())
        if used + size > OCTETS:
            parts.append(part)
            part, used = " ", 1
        part, used = part + letter, used + size
    return CRLF.join([*parts, part])
