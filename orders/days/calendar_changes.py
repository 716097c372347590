"""Changes of the shop's calendar: hours more, hours less, closed weeks, holidays, frames of its own."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from django.db import transaction

from orders.days.days_off import take_off
from orders.days.frames import frames_now, set_frames
from orders.days.replanning import Deeds, overtime_deeds, replan, shop_deeds
from orders.models import DayOff, Event, Overtime, Person, Replan, Shop
from orders.templatetags.shop import day as short_day
from orders.templatetags.shop import hours


def close_days(
    shop: Shop, first: date, last: date, *, person: Person | None, by: Person, **words: str
) -> Replan | None:
    """Take days off and replan; None when all of them were off already."""

    def deed() -> Deeds:
        return [["day off", off.pk] for off in take_off(first, last, person=person, by=by, **words)]

    return replan(shop, why_closed(first, last, person, words), deed, by=by)


def why_closed(first: date, last: date, person: Person | None, words: dict[str, str]) -> str:
    """Return the reason of a change in words: `Ada is ill Mon 3 May to Fri 7 May`."""
    who = str(person) if person else "The shop"
    what = {
        DayOff.Why.ILL: "is ill",
        DayOff.Why.MARKET: "is at a market",
        DayOff.Why.CLOSED: "is closed",
    }.get(words.get("why", ""), "is off")  # type: ignore[call-overload]
    days = short_day(first) if first == last else f"{short_day(first)} to {short_day(last)}"
    return f"{who} {what} {days}"


def close_week(shop: Shop, monday: date, *, by: Person) -> Replan | None:
    """Close the shop for a week, or for what is left of it."""
    first = max(monday, shop.today())
    return close_days(
        shop,
        first,
        monday + timedelta(days=6),
        person=None,
        by=by,
        why=DayOff.Why.CLOSED,
        words="week closed",
    )


def is_closed(monday: date) -> bool:
    """Say whether a week was closed."""
    days = (monday, monday + timedelta(days=6))
    return DayOff.objects.filter(day__range=days, person=None, why=DayOff.Why.CLOSED).exists()


@transaction.atomic
def open_week(monday: date, *, by: Person) -> int:
    """Take the closing of a week back; return how many days are open again."""
    off = DayOff.objects.filter(day__range=(monday, monday + timedelta(days=6)), person=None, why="closed")
    gone, _ = off.delete()
    if gone:
        Event.objects.note("week opened", by=by, monday=monday)
    return gone


def work_longer(shop: Shop, person: Person, day: date, *, minutes: int, by: Person) -> Replan | None:
    """Enter overtime, added to what is there on that day."""
    why = f"{person} stays {hours(minutes)} longer on {short_day(day)}"
    return replan(shop, why, lambda: overtime_deeds([(person, day, minutes)], by=by), by=by)


@transaction.atomic
def go_home_on_time(overtime: Overtime, *, by: Person) -> None:
    """Take overtime out again."""
    Event.objects.note("overtime taken out", by=by, person=overtime.person, day=overtime.day)
    overtime.delete()


def keep_holidays(shop: Shop, *, keeps: bool, region: str, by: Person, **listed: Any) -> Replan | None:
    """Keep the public holidays and replan; of those `listed`, the `worked` ones are worked all the same."""
    kept = [day for day in shop.worked_holidays if date.fromisoformat(day) not in set(listed["days"])]
    worked = sorted({*kept, *listed["worked"]}) if keeps else []
    facts = {"keeps_holidays": keeps, "region": region, "worked_holidays": worked}
    why = "Public holidays are kept" if keeps else "Public holidays are worked"
    return replan(shop, why, lambda: shop_deeds(shop, by=by, **facts), by=by)


def keep_hours(shop: Shop, *, frames: int, by: Person, **facts: Any) -> Replan | None:
    """Keep how much is planned, when the door is open and how many frames there are, and replan."""

    def deed() -> Deeds:
        before = frames_now()
        deeds = shop_deeds(shop, by=by, **facts)
        set_frames(shop, frames, by=by)
        return deeds if frames == before else [*deeds, ["frames", shop.pk, before]]

    share = facts["planned_share"]
    why = f"{share} % of the hours are planned" if share != shop.planned_share else "Hours and frames"
    return replan(shop, why, deed, by=by)
