"""How this shop really works, from its finished quilts: how much longer work takes, how full hours are."""

from __future__ import annotations

import math
from collections import defaultdict
from datetime import date, datetime, timedelta
from statistics import pstdev
from zoneinfo import ZoneInfo

from orders.days.hours import calendar_of
from orders.days.replanning import replan, shop_deeds
from orders.models import Order, Person, Replan, Shop, Stage
from planner.schedule import minutes_by_day

ENOUGH_JOBS = 10
WEEKS_LOOKED_AT = 12
LEAST_PLANNED, MOST_PLANNED = 30, 95  # per cent
WORTH_IT = 5  # per cent
LEAST_SPREAD = 0.05  # so that ten quilts that happened to agree do not promise certainty


def finished_jobs() -> int:
    """Return how many quilts were handed over with their work done."""
    return Order.objects.put_away().filter(stages__done_at__isnull=False).distinct().count()


def whole_jobs() -> list[tuple[int, int]]:
    """Return the minutes estimated and spent of each quilt handed over, the earliest first.

    A stage whose clock was forgotten and never told speaks for nothing, so it is left out of both.
    """
    sums: dict[int, list[int]] = defaultdict(lambda: [0, 0])
    done = Stage.objects.with_known_minutes().filter(order__handed_over_at__isnull=False)
    rows = done.order_by("order__handed_over_at", "order").values_list("order", "minutes", "spent")
    for order, minutes, spent in rows:
        sums[order][0] += minutes
        sums[order][1] += spent
    return [(minutes, spent) for minutes, spent in sums.values()]


def bias_of_estimates() -> tuple[float, int] | None:
    """Return the spread of how wrong whole quilts were estimated, on the log scale, and from how many.

    None before ten quilts are finished: with fewer, such a figure says nothing.
    """
    ratios = [math.log(spent / minutes) for minutes, spent in whole_jobs()]
    if len(ratios) < ENOUGH_JOBS:
        return None
    return max(LEAST_SPREAD, pstdev(ratios)), len(ratios)


def own_share(shop: Shop) -> tuple[int, int] | None:
    """Return the per cent of the last twelve weeks' hours that went into stages, and from how many jobs.

    Days off, holidays and closed weeks are no hours; overtime is.
    """
    jobs, first = finished_jobs(), shop.today() - timedelta(weeks=WEEKS_LOOKED_AT)
    there = minutes_there(shop, first, 7 * WEEKS_LOOKED_AT) if jobs >= ENOUGH_JOBS else 0
    if not there:
        return None
    start = datetime.combine(first, datetime.min.time(), ZoneInfo(shop.time_zone))
    spent = sum(Stage.objects.filter(done_at__gte=start).values_list("spent", flat=True))
    return min(100, round(100 * spent / there)), jobs


def minutes_there(shop: Shop, first: date, days: int) -> int:
    """Return the minutes at the bench of everybody, from a day on for so many."""
    people = list(Person.objects.filter(is_active=True).select_related("week"))
    calendar = calendar_of(shop, people, origin=first, days=days)
    weeks = [(person, person.week.minutes) for person in people if hasattr(person, "week")]
    usual = sum(
        sum(minutes_by_day(week, closed=calendar.closed_for(who), extra={}, origin=first, days=days))
        for who, week in weeks
    )
    return usual + sum(calendar.overtime.values())


def take_over_own_share(shop: Shop) -> Replan | None:
    """Plan the share of the hours that the shop's own quilts show, unless the owner set one herself.

    A few per cent more or less are let be, so that the plan does not stir every morning.
    """
    own = None if shop.share_by_hand else own_share(shop)
    if own is None:
        return None
    share = min(MOST_PLANNED, max(LEAST_PLANNED, own[0]))
    if abs(share - shop.planned_share) < WORTH_IT:
        return None
    why = f"On {own[1]} finished quilts {own[0]} % of the hours went into stages, so {share} % are planned"
    return replan(shop, why, lambda: shop_deeds(shop, by=None, planned_share=share), by=None)
