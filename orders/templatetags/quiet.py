"""The day before which nothing may reach a customer."""

from __future__ import annotations

from datetime import date
from typing import Any

from django import template

register = template.Library()


@register.filter
def quiet_until(customer: Any, shop: Any) -> date | None:
    """Return the day until which a surprise keeps everything from a customer; None where nothing does."""
    return customer.keep_quiet_until if customer.is_quiet(on=shop.today()) else None
