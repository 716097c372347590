"""What stands on an estimate: a band and what it takes for granted, before anybody has seen the shirts."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from orders.account.money import the_shop
from orders.customer.enquiries import verdict
from orders.models import Enquiry

from .saying import Saying, in_words


class NoBand(Exception):
    """An enquiry without a price band has no estimate to be printed."""


def estimate_facts(of: Enquiry) -> dict[str, Any]:
    """Return the band as it was told, with its day, what it assumes and what is not in it."""
    if not of.high or of.low is None or of.laid_size is None:
        raise NoBand("Reckon the enquiry first: an estimate needs a price band.")
    shop = the_shop()
    say = Saying(shop)
    until = of.penciled_until if of.is_penciled(on=shop.today()) else None
    until = until or shop.today() + timedelta(days=shop.quote_valid_days)
    fits = verdict(of, shop)[0] in ("fits", "tight", "open")
    return {
        "enquiry": of.pk,
        "order": of.order.number if of.order else None,
        "for": of.name,
        "reach": of.reach,
        "memorial": of.memorial,
        "on": say.day(shop.today()),
        "until": say.day(until),
        "low": say.money(of.low),
        "high": say.money(of.high),
        "kind": of.get_kind_display().lower(),
        "shirts": of.shirts or 0,
        "in_words": in_words(of.shirts or 0),
        "size": say.size(of.laid_size),
        "tax_on_top": any(not tax.inclusive for tax in shop.shop_rules().terms.taxes),
        "needed_by": say.day(of.needed_by),
        "fits_by": say.day(of.fits_by),
        "here_by": say.day(of.here_by),
        "in_time": fits,
    }
