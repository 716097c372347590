"""Working minutes by day, from the week, the closed days and the extra hours."""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from datetime import date, timedelta

from planner.problems import BadInput


def minutes_by_day(
    week: Sequence[int], *, closed: Set[date], extra: Mapping[date, int], origin: date, days: int
) -> tuple[int, ...]:
    """Return the working minutes of each of `days` days from `origin`.

    `week` holds the minutes of Monday to Sunday; a closed day has none of them. `extra` is added
    to whatever the day has, on closed days too; below 0 it takes away, never to less than 0.
    """
    if len(week) != 7:
        raise BadInput("week", "give the minutes of seven days, Monday first.")
    if min(week) < 0:
        raise BadInput("week", "a weekday cannot have fewer than 0 minutes.")
    if days < 0:
        raise BadInput("days", "cannot be below 0.")
    dates = (origin + timedelta(days=n) for n in range(days))
    return tuple(max(0, (0 if day in closed else week[day.weekday()]) + extra.get(day, 0)) for day in dates)
