"""The demo's calendar: holidays kept, a quilter and a supplier outside, an evening longer, a market day."""

from __future__ import annotations

from datetime import timedelta

from orders.days.calendar_changes import close_days, keep_holidays, work_longer
from orders.demo.making import Maker
from orders.models import DayOff, Outside, Stage


def fill(maker: Maker) -> None:
    """Fill the calendar, in the shop's own verbs."""
    let_clocks_run()
    shop, today = maker.shop, maker.shop.today()
    keep_holidays(shop, keeps=True, region="OH", by=maker.owner, days=(), worked=[])
    Outside.objects.create(
        kind=Outside.Kind.QUILTER,
        name="The long arm of Quarry Gap",
        reach="555 0170",
        lead_days=14,
        transit_days=2,
    )
    Outside.objects.create(kind=Outside.Kind.SUPPLIER, name="Wide backings", lead_days=5, transit_days=2)
    saturday = today + timedelta(days=(5 - today.weekday()) % 7 + 14)
    close_days(
        shop,
        saturday,
        saturday,
        person=maker.owner,
        by=maker.owner,
        why=DayOff.Why.MARKET,
        words="Harrow Bay market",
    )
    thursday = today + timedelta(days=(3 - today.weekday()) % 7 + 7)
    work_longer(shop, maker.owner, thursday, minutes=60, by=maker.owner)


def let_clocks_run() -> None:
    """Let the stages of the plot have been clocked, all but the last that was done."""
    told = Stage.objects.filter(clock=Stage.Clock.FORGOTTEN)
    last = told.order_by("-done_at", "-pk").first()
    if last is not None:
        told.exclude(pk=last.pk).update(clock=Stage.Clock.RAN)
