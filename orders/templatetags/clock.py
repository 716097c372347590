"""Moments by the shop's clock, rates of its list, and ways to pages that are not open to everyone."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

from django import template

from orders import navigation
from orders.templatetags.shop import HARD_SPACE, day, money
from planner.units import Rate, decimals

register = template.Library()

TWELVE_HOURS = ("US", "CA", "AU", "NZ")


@register.filter
def clock(minute: int | None, shop: Any) -> str:
    """Return a minute of the day: `9:10 am` where clocks have twelve hours, `14:10` elsewhere."""
    if minute is None:
        return ""
    hour, rest = divmod(minute, 60)
    if shop.country not in TWELVE_HOURS:
        return f"{hour}:{rest:02d}"
    half = "am" if hour % 24 < 12 else "pm"
    return f"{(hour - 1) % 12 + 1}:{rest:02d}{HARD_SPACE}{half}"


@register.filter
def moment_clock(moment: datetime | None, shop: Any) -> str:
    """Return the time of a moment at the shop; nothing before there is a shop."""
    if moment is None or not shop:
        return ""
    there = moment.astimezone(ZoneInfo(shop.time_zone))
    return clock(there.hour * 60 + there.minute, shop)


@register.filter
def moment_day(moment: datetime | None, shop: Any) -> str:
    """Return the day of a moment at the shop: `Thu 15 Apr`, or `today`; nothing before there is a shop."""
    if moment is None or not shop:
        return ""
    there = moment.astimezone(ZoneInfo(shop.time_zone)).date()
    return "today" if there == shop.today() else day(there)


@register.filter
def there(moment: datetime | None, shop: Any) -> date | None:
    """Return the date of a moment at the shop, for `day` to say; nothing before there is a shop."""
    return moment.astimezone(ZoneInfo(shop.time_zone)).date() if moment and shop else None


@register.simple_tag(takes_context=True)
def way_to(context: template.Context, name: str, *args: Any) -> str:
    """Return the address of a page, or nothing where the caller may not open it."""
    return navigation.address_for(context["request"], name, *args)


@register.filter
def rate(of: Rate, shop: Any) -> str:
    """Return a price of the list: `$36.00`, or `0.32 ¢ a square inch` as `$0.0032 / in2`."""
    if of.minor == of.minor.to_integral_value():
        amount = money(int(of.minor), shop)
    else:
        amount = f"{of.minor.scaleb(-decimals(of.currency)).normalize():f}{HARD_SPACE}{of.currency}"
    return amount if of.per in ("each", "hour") else f"{amount}{HARD_SPACE}/{HARD_SPACE}{of.per}"


@register.filter
def per_cent(share: Decimal) -> str:
    """Return a share of one in per cent: `7.25 %`."""
    return f"{(share * 100).normalize():f}{HARD_SPACE}%"
