"""Days of a brief: written as dates, reckoned as indexes from the first day of the calendar."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from planner.problems import BadInput
from planner.schedule import Person, minutes_by_day

LONGEST = 3660
FIELDS = ("id", "week", "until", "closed", "extra", "opens")


def day_index(day: date, origin: date, path: str = "") -> int:
    """Return how many days `day` lies after `origin`."""
    index = (day - origin).days
    if index < 0:
        raise BadInput(path, f"lies before the calendar's first day, {origin.isoformat()}.")
    return index


def person_of_a_week(written: Mapping[str, Any], origin: date | None) -> Person:
    """Return a person from weekday minutes, Monday first, with days off and extra minutes.

    `written` has `id`, `week` (seven whole minutes), `until` (the last day), and optionally
    `closed` (days off), `extra` (day to minutes more or less) and `opens` (minute of the day).
    """
    unknown = sorted(set(written) - set(FIELDS))
    if unknown:
        raise BadInput(unknown[0], f"is not known here; expected {', '.join(FIELDS)}.")
    if origin is None:
        raise BadInput("week", "needs the calendar's first day, work.origin.")
    week = written["week"]
    if not isinstance(week, list) or len(week) != 7 or not all(type(each) is int for each in week):
        raise BadInput("week", "must be seven whole numbers of minutes, Monday first.")
    days = day_index(_day(written.get("until"), "until"), origin, "until") + 1
    if days > LONGEST:
        raise BadInput("until", "is more than ten years ahead.")
    closed = {_day(each, "closed") for each in written.get("closed", [])}
    extra = {_day(day, "extra"): int(minutes) for day, minutes in written.get("extra", {}).items()}
    minutes = minutes_by_day(tuple(week), closed=closed, extra=extra, origin=origin, days=days)
    opens = written.get("opens", 0)
    return Person(id=str(written.get("id", "")), minutes=minutes, opens=(opens,) * days)


def _day(written: object, field: str) -> date:
    try:
        return date.fromisoformat(str(written))
    except ValueError:
        raise BadInput(field, f"“{written}” is not a day like 2027-05-22.") from None
