"""Counts in words, as they are said at the door, and lengths that are not overstated."""

from __future__ import annotations

from typing import Any

from django import template

from orders.papers.saying import in_words as words
from planner.units import METRE, YARD, show_length

register = template.Library()


@register.filter
def in_words(number: int | None) -> str:
    """Return a count in words: `twelve`."""
    return "" if number is None else words(number)


@register.filter
def tag_number(number: int) -> str:
    """Return a shirt's number as it stands on its tag: `09`."""
    return f"{number:02d}"


@register.filter
def cloth_length_down(ticks: int, shop: Any) -> str:
    """Return cloth on hand in yards or meters, rounded down so that it is never more than lies there."""
    unit, step = ("yd", YARD // 8) if shop.unit == "in" else ("m", METRE // 100)
    shown = (
        show_length(ticks // step * step, unit=unit) if ticks >= step else show_length(ticks, unit=shop.unit)
    )
    return shown.replace(" ", "\N{NO-BREAK SPACE}")
