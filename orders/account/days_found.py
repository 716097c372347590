"""The days of a price: by when it fits, not before when, and until when an answer keeps the day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from orders.account.chosen_way import way_of
from orders.models import Errand, Order, Shop
from planner.brief import Brief
from planner.plan import Offer
from planner.plan.booking import order_of, quilter_for
from planner.schedule import Promise, last_day_to_begin


def days_of(offer: Offer, brief: Brief) -> tuple[date | None, date | None]:
    if not isinstance(offer.promise, Promise):
        return None, None
    return brief.work.date_of(offer.promise.day), brief.work.date_of(offer.promise.not_before)


@dataclass(frozen=True)
class LongerLook:
    """The search for ways, as far as it bears on the day: the days it found, and how far it has come."""

    found: tuple[date, date] | None = None
    state: str = "not begun"


NOT_BEGUN = LongerLook()


def longer_look(order: Order, shop: Shop) -> LongerLook:
    """Return the longer look for the order and the work as they stand today.

    Its state is not begun, under way, halted (stopped, or gone wrong) or over.
    """
    from orders.account import ways_to_take  # it asks for prices, which ask for days

    search = ways_to_take.search_of(order, shop)
    if search is None:
        return NOT_BEGUN
    found = ways_to_take.days_found(search, way_of(order))
    if found is not None or search.state == Errand.State.DONE:
        return LongerLook(found, "over")
    return LongerLook(None, "under way" if search.is_open else "halted")


def best_known(found: tuple[date | None, date | None], longer: LongerLook) -> tuple[date | None, date | None]:
    """Return the days found at once, or those of the longer look where that found one sooner."""
    if longer.found is not None and (found[0] is None or longer.found[0] < found[0]):
        return longer.found
    return found


def answer_by(offer: Offer, brief: Brief, planned: date | None, *, until: date) -> date | None:
    """Return the last day found on which the work can begin and still be done by the day planned."""
    if planned is None or not isinstance(offer.promise, Promise):
        return None
    origin = brief.work.origin
    new = order_of(brief, offer.minutes, out=quilter_for(offer.layout.quilt, brief), today=origin)
    by, most = (planned - origin).days, (min(planned, until) - origin).days
    found = last_day_to_begin(brief.work, new, offer.promise, by=by, most=most) if new else None
    return origin + timedelta(days=found) if found else None
