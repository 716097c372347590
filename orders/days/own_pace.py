"""How this shop really works, from its finished quilts: how much longer work takes, how full hours are."""

from __future__ import annotations

import math
from collections import defaultdict
from datetime import datetime, timedelta
from statistics import pstdev
from zoneinfo import ZoneInfo

from orders.models import Order, Shop, Stage, WorkingWeek

ENOUGH_JOBS = 10
WEEKS_LOOKED_AT = 12
LEAST_SPREAD = 0.05  # so that ten quilts that happened to agree do not promise certainty


def finished_jobs() -> int:
    """Return how many quilts were handed over with their work done."""
    return Order.objects.put_away().filter(stages__done_at__isnull=False).distinct().count()


def bias_of_estimates() -> tuple[float, int] | None:
    """Return the spread of how wrong whole quilts were estimated, on the log scale, and from how many.

    None before ten quilts are finished: with fewer, such a figure says nothing.
    """
    sums: dict[int, list[int]] = defaultdict(lambda: [0, 0])
    done = Stage.objects.filter(order__handed_over_at__isnull=False, done_at__isnull=False, minutes__gt=0)
    for order, minutes, spent in done.values_list("order", "minutes", "spent"):
        sums[order][0] += minutes
        sums[order][1] += spent
    ratios = [math.log(spent / minutes) for minutes, spent in sums.values() if minutes and spent]
    if len(ratios) < ENOUGH_JOBS:
        return None
    return max(LEAST_SPREAD, pstdev(ratios)), len(ratios)


def own_share(shop: Shop) -> tuple[int, int] | None:
    """Return the per cent of the last twelve weeks' hours that went into stages, and from how many jobs."""
    jobs = finished_jobs()
    weekly = sum(sum(week.minutes) for week in WorkingWeek.objects.filter(person__is_active=True))
    if jobs < ENOUGH_JOBS or not weekly:
        return None
    start = datetime.combine(
        shop.today() - timedelta(weeks=WEEKS_LOOKED_AT), datetime.min.time(), ZoneInfo(shop.time_zone)
    )
    spent = sum(Stage.objects.filter(done_at__gte=start).values_list("spent", flat=True))
    return min(100, round(100 * spent / (weekly * WEEKS_LOOKED_AT))), jobs
