"""The days of a price: by when it fits, not before when, and until when an answer keeps the day."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

from orders import planning
from orders.account.chosen_way import way_of
from orders.models import Order, Shop
from planner.brief import Brief
from planner.plan import Offer
from planner.plan.booking import book, order_of, quilter_for
from planner.problems import Limit
from planner.schedule import Promise


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


def answer_by(offer: Offer, brief: Brief, planned: date | None, *, until: date) -> date | None:
    """Return the last day found on which the work can begin and still be done by the day planned."""
    if planned is None:
        return None
    origin, last = brief.work.origin, min(planned, until)

    def keeps(days: int) -> bool:
        day = origin + timedelta(days=days)
        new = order_of(brief, offer.minutes, out=quilter_for(offer.layout.quilt, brief), today=day)
        promised = book(brief.work, new, limit=Limit(effort=planning.EFFORT), seed=0)
        return isinstance(promised, Promise) and brief.work.date_of(promised.day) <= planned

    found = _last_that(keeps, (last - origin).days)
    return origin + timedelta(days=found) if found else None


def _last_that(holds: Callable[[int], bool], most: int) -> int:
    """Return the largest number found, 0 to `most`, that holds, by halving; 0 when none does."""
    least = 0
    while least < most:
        middle = (least + most + 1) // 2
        least, most = (middle, most) if holds(middle) else (least, middle - 1)
    return least
