"""Pictures of time and heat. The words beside each say the same, so screen readers pass them by."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from django import template

from orders.bench import iron
from orders.days import threads

register = template.Library()


@register.inclusion_tag("parts/gauge.svg")
def gauge(work: float, left: float) -> dict[str, Any]:
    """Draw the work left (bench days) against the days left."""
    return {"gauge": threads.gauge(float(work), float(left))}


@register.inclusion_tag("parts/slack.svg")
def slack(waited: int, room: int) -> dict[str, Any]:
    """Draw the days waited, today, and the days of room before waiting costs a day."""
    return {"slack": threads.slack(waited, room)}


@register.inclusion_tag("parts/datebar.svg")
def datebar(
    today: date, *, not_before: date, needed: date, fits: date | None = None, promised: date | None = None
) -> dict[str, Any]:
    """Draw the days from today to her day: cannot be before, may be, fits, promised, needed."""
    return {
        "bar": threads.date_bar(today, not_before=not_before, fits=fits, promised=promised, needed=needed)
    }


@register.inclusion_tag("parts/onethread.html")
def onethread(steps: Sequence[tuple[str, str]], done: int) -> dict[str, Any]:
    """Draw a customer's way: `steps` are (word, day in words), the first `done` knotted, the last her day."""
    return {"steps": steps, "here": done + 1, "way": threads.way(len(steps), done=done)}


@register.inclusion_tag("parts/dial.svg")
def dial(limit: int) -> dict[str, Any]:
    """Draw the dial of an iron with dots: where to turn it, and the limit (°F) with all beyond it hatched."""
    place = iron.dial(limit)
    return {"dial": place, "hatches": range(int(place.limit) + 8, 456, 14)}


@register.inclusion_tag("parts/dial.svg")
def dial_of(place: iron.Dial) -> dict[str, Any]:
    """Draw a dial that was worked out for a tool of the shop."""
    return {"dial": place, "hatches": range(int(place.limit) + 8, 456, 14)}


@register.simple_tag
def dots(limit: int) -> int:
    """Return the number of dots to turn an iron to for a limit in °F, 0 for none."""
    return iron.dial(limit).turn
