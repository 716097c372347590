"""The days of a price: by when it fits, not before when, and until when an answer keeps the day."""

from __future__ import annotations

from datetime import date, timedelta

from orders.account.chosen_way import way_of
from orders.models import Order, Shop
from planner.brief import Brief
from planner.plan import Offer
from planner.plan.booking import order_of, quilter_for
from planner.schedule import Promise, last_day_to_begin


def days_of(offer: Offer, brief: Brief) -> tuple[date | None, date | None]:
    if not isinstance(offer.promise, Promise):
        return None, None
    return brief.work.date_of(offer.promise.day), brief.work.date_of(offer.promise.not_before)


def best_known(
    order: Order, shop: Shop, found: tuple[date | None, date | None]
) -> tuple[date | None, date | None]:
    """Return the days found at once, or those of the longer search for ways where that found one sooner."""
    from orders.account import ways_to_take  # it asks for prices, which ask for days

    longer = ways_to_take.days_found(order, shop, way_of(order))
    sooner = longer is not None and (found[0] is None or longer[0] < found[0])
    return longer if longer is not None and sooner else found


def is_looked_for_longer(order: Order, shop: Shop) -> bool:
    """Return whether the longer search for ways was begun for the order as it stands today."""
    from orders.account import ways_to_take

    return ways_to_take.search_of(order, shop) is not None


def answer_by(offer: Offer, brief: Brief, planned: date | None, *, until: date) -> date | None:
    """Return the last day found on which the work can begin and still be done by the day planned."""
    if planned is None or not isinstance(offer.promise, Promise):
        return None
    origin = brief.work.origin
    new = order_of(brief, offer.minutes, out=quilter_for(offer.layout.quilt, brief), today=origin)
    by, most = (planned - origin).days, (min(planned, until) - origin).days
    found = last_day_to_begin(brief.work, new, offer.promise, by=by, most=most) if new else None
    return origin + timedelta(days=found) if found else None
