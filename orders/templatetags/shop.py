"""Numbers, dates and marks as the shop says them. Each filter takes the shop, so that none guesses."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal
from typing import Any

from babel import Locale, UnknownLocaleError
from babel.numbers import format_currency
from django import template
from django.templatetags.static import static
from django.utils.html import format_html
from django.utils.safestring import SafeString

from orders import navigation
from planner.care import show_heat
from planner.units import Size, decimals, show_length

register = template.Library()

HARD_SPACE = "\N{NO-BREAK SPACE}"
FRACTIONS = {"1/2": "½", "1/4": "¼", "3/4": "¾", "1/8": "⅛", "3/8": "⅜", "5/8": "⅝", "7/8": "⅞"}
WORDS_OF_STATE = ("done", "wait", "late", "work", "rest")


@register.filter
def measure(ticks: int | None, shop: Any) -> str:
    """Return a length in the shop's unit: `5¼ in`."""
    return "" if ticks is None else _unbroken(show_length(ticks, unit=shop.unit))


@register.filter
def cloth_length(ticks: int | None, shop: Any) -> str:
    """Return a length off the bolt, in yards or meters, rounded up as it is bought: `1⅝ yd`."""
    unit = "yd" if shop.unit == "in" else "m"
    if ticks is None:
        return ""
    return _unbroken(show_length(ticks, unit=unit, rounding="up").removeprefix("about "))


@register.filter
def size(across_down: Size | None, shop: Any) -> str:
    """Return a size in the shop's unit, rounded to its usual step: `50 × 66 in`."""
    if across_down is None:
        return ""
    across, down = (
        show_length(side, unit=shop.unit, rounding="nearest").removeprefix("about ")
        for side in (across_down.width, across_down.height)
    )
    return _unbroken(f"{across.removesuffix(' ' + shop.unit)} × {down}")


@register.filter
def money(minor: int | None, shop: Any) -> str:
    """Return an amount with its currency as the shop's place writes it: `$1,234.50`."""
    if minor is None:
        return ""
    amount = Decimal(minor).scaleb(-decimals(shop.currency))
    return _written(format_currency(amount, shop.currency, locale=_locale(shop.country)))


@register.filter
def price(minor: int | None, shop: Any) -> str:
    """Return an amount without its cents where there are none, for headings: `$486`."""
    if minor is None:
        return ""
    places = decimals(shop.currency)
    if minor % 10**places:
        return money(minor, shop)
    whole = Decimal(minor).scaleb(-places)
    locale = _locale(shop.country)
    pattern = locale.currency_formats["standard"].pattern.replace("0.00", "0")
    written = format_currency(whole, shop.currency, format=pattern, locale=locale, currency_digits=False)
    return _written(written)


def _written(amount: str) -> str:
    """Return the amount with a true minus, and with a space where letters stand before a digit (CLDR)."""
    return re.sub(r"(?<=[A-Z])(?=\d)", HARD_SPACE, amount).replace("-", "−")


def _locale(country: str) -> Locale:
    try:
        return Locale.parse(f"en_{country.upper()}")
    except (UnknownLocaleError, ValueError):
        return Locale("en")


@register.filter
def hours(minutes: int | None) -> str:
    """Return a time of work: `30 min`, `5 h`, `4 h 40`."""
    if minutes is None:
        return ""
    sign = "−" if minutes < 0 else ""
    whole, rest = divmod(abs(minutes), 60)
    if not whole:
        return f"{sign}{rest}{HARD_SPACE}min"
    return f"{sign}{whole}{HARD_SPACE}h" + (f"{HARD_SPACE}{rest:02d}" if rest else "")


@register.filter
def day(on: date | None, today: date | None = None) -> str:
    """Return a day as `Thu 15 Apr`, with its year when `today` is given and lies in another one."""
    if on is None:
        return ""
    year = f" {on.year}" if today and on.year != today.year else ""
    return _unbroken(f"{on:%a} {on.day} {on:%b}{year}")


@register.filter
def long_day(on: date | None) -> str:
    """Return a day in full, which may break after its weekday: `Thursday 15 April`."""
    return "" if on is None else f"{on:%A} " + _unbroken(f"{on.day} {on:%B}")


@register.filter
def heat(limit: int | None, shop: Any) -> str:
    """Return a heat limit: `270 °F`, or in °C where cloth is bought by the meter."""
    if limit is None:
        return ""
    return _unbroken(show_heat(limit, unit="F" if shop.unit == "in" else "C"))


@register.filter
def fractions(sentence: str) -> str:
    """Return a sentence with its halves, quarters and eighths as one letter: `within ½ in of a seam`."""
    for fraction, letter in FRACTIONS.items():
        sentence = re.sub(rf"(?:(?<=\d) |\b){fraction}\b", letter, sentence)
    return sentence


def _unbroken(words: str) -> str:
    """Return the words on one line, with halves, quarters and eighths as one letter."""
    return fractions(words).replace(" ", HARD_SPACE)


@register.simple_tag
def icon(name: str) -> SafeString:
    """Draw an icon of static/icons.svg; the words beside it say what it means."""
    return format_html(
        '<svg class="icon" aria-hidden="true"><use href="{}#{}"/></svg>', static("icons.svg"), name
    )


@register.simple_tag
def in_place(part: str = "main") -> SafeString:
    """Say that a form answers on its own page: with script only that part of the page is swapped.

    Said of a section, it is so of all forms and links in it.
    """
    return format_html(
        'hx-boost="true" hx-target="#{0}" hx-select="#{0}" hx-swap="outerHTML show:none" hx-push-url="false"',
        part,
    )


@register.simple_tag
def mark(state: str) -> SafeString:
    """Draw the mark of a state: knot, diamond, triangle, needle or folded cloth."""
    if state not in WORDS_OF_STATE:
        raise template.TemplateSyntaxError(f"“{state}” is none of {', '.join(WORDS_OF_STATE)}.")
    return format_html(
        '<svg class="mark-of" aria-hidden="true"><use href="{}#{}"/></svg>', static("icons.svg"), state
    )


@register.simple_tag
def chip(state: str, words: str) -> SafeString:
    """Say a state in words beside its mark; with an empty `state` the work is in other hands."""
    return format_html('<span class="chip {}">{}{}</span>', state, mark(state) if state else "", words)


@register.simple_tag(takes_context=True)
def navigation_ways(context: template.Context) -> list[navigation.Way]:
    """Return the places for the rail; a view may set `place` where the name of its address does not say."""
    return navigation.ways(context["request"], place=context.get("place") or "")


@register.inclusion_tag("parts/rooms.html", takes_context=True)
def rooms(context: template.Context, order: Any, room: str) -> dict[str, Any]:
    """Draw the four rooms of an order with the open one on top."""
    return {"rooms": navigation.rooms(context["request"], order, room=room)}
