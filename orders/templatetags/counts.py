"""Counts in words, as they are said at the door, and lengths that are not overstated."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from django import template

from orders.papers.saying import in_words as words
from orders.templatetags.shop import measure
from planner.units import METRE, YARD

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
    if ticks < step:
        return measure(ticks, shop)
    return measure(ticks // step * step, SimpleNamespace(unit=unit))
