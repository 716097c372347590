"""A change of the calendar with what it does to the plan: done, told with its reason, and taken back."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from typing import Any
from zoneinfo import ZoneInfo

from django.db import models, transaction
from django.utils import timezone

from orders.days.calendar import PENCILED, workload
from orders.days.frames import set_frames
from orders.days.holds import nothing_without_its_yes
from orders.days.weeks import timetable_of
from orders.models import DayOff, Event, Overtime, Person, Replan, Shop, Stage, Trip
from orders.templatetags.shop import day as short_day
from orders.workroom import change_facts
from planner.schedule import Timetable, Workload, stability

Deeds = list[list[Any]]
FORTNIGHT = 14
MOST_NAMED = 12
NAMED_AT_ONCE = 2


def replan(shop: Shop, why: str, deed: Callable[[], Deeds], *, by: Person | None) -> Replan | None:
    """Do the deed and keep what the plan became through it; None when the deed changed nothing.

    The plan is reckoned before the deed and after it, so neither reckoning holds a transaction up.
    """
    before = plan_now(shop)
    with transaction.atomic():
        deeds = deed()
        made = Replan.objects.create(by=by, why=why[:200], deeds=deeds) if deeds else None
    if made is None:
        return None
    after = plan_now(shop)
    made.moved = quilts_moved(before, after)
    made.stages_moved = len(stability(before[1], after[1], days=FORTNIGHT).stages)
    made.save(update_fields=["moved", "stages_moved"])
    return made


def plan_now(shop: Shop) -> tuple[Workload, Timetable]:
    """Return the work in the room and the timetable it has now."""
    work = nothing_without_its_yes(workload(shop, today=shop.today()))
    return work, timetable_of(work)


def quilts_moved(
    before: tuple[Workload, Timetable], after: tuple[Workload, Timetable]
) -> list[dict[str, Any]]:
    """Return the quilts that are ready on another day, those that lose most first."""
    old, new = (_ready_days(*each) for each in (before, after))
    moved = [
        {"order": order, "before": old[order].isoformat(), "now": day.isoformat()}
        for order, day in new.items()
        if order in old and day != old[order] and not order.startswith(PENCILED)
    ]
    moved.sort(key=lambda each: (each["before"] > each["now"], each["order"]))
    return moved[:MOST_NAMED]


def moved_in_words(change: Replan) -> str:
    """Return what a change did: `It moves 4 pieces of work; No. 31 is ready Fri 14 May, not Wed 12 May.`"""
    if not change.moved and not change.stages_moved:
        return "Nothing else moves."
    said = []
    if change.stages_moved:
        s = "" if change.stages_moved == 1 else "s"
        said.append(f"{change.stages_moved} piece{s} of work of the next two weeks move{'' if s else 's'}.")
    for each in change.moved[:NAMED_AT_ONCE]:
        before, now = (short_day(date.fromisoformat(each[name])) for name in ("before", "now"))
        said.append(f"{each['order']} is ready {now}, not {before}.")
    if len(change.moved) > NAMED_AT_ONCE:
        more = len(change.moved) - NAMED_AT_ONCE
        said.append(f"{more} more quilt{' gets' if more == 1 else 's get'} another day.")
    return " ".join(said)


def _ready_days(work: Workload, table: Timetable) -> dict[str, date]:
    return {order: work.date_of(day) for order, day in table.finish.items()}


def change_told(shop: Shop, *, days: int) -> Replan | None:
    """Return the last change that stands, on the shop's day on which it was made and `days` - 1 after."""
    change = Replan.objects.latest_standing()
    if change is None:
        return None
    made_on = change.at.astimezone(ZoneInfo(shop.time_zone)).date()
    return change if (shop.today() - made_on).days < days else None


@transaction.atomic
def take_back(change: Replan, *, by: Person) -> bool:
    """Take a change back: its records go, a stage has what it had. Said twice, once."""
    now = Replan.objects.select_for_update().get(pk=change.pk)
    if now.undone_at is not None:
        return False
    for deed in now.deeds:
        _undo(*deed, by=by)
    now.undone_at = timezone.now()
    now.save(update_fields=["undone_at"])
    Event.objects.note("change of plan taken back", by=by, why=now.why)
    return True


def _undo(record: str, key: int, before: Any = None, *, by: Person) -> None:
    if record == "shop":
        change_facts(Shop.objects.get(pk=key), by=by, **before)
    elif record == "frames":
        set_frames(Shop.objects.get(pk=key), before, by=by)
    elif record == "trip":
        _expect(Trip.objects.filter(pk=key, back_on=None).first(), before, by=by)
    elif record == "day off":
        DayOff.objects.filter(pk=key).delete()
    elif record == "overtime":
        _set_overtime(Overtime.objects.filter(pk=key), before)
    elif record in ("waits_until", "pinned_for", "minutes", "batch"):
        Stage.objects.filter(pk=key).update(**{record: before})


def _expect(trip: Trip | None, before: str, *, by: Person) -> None:
    if trip is not None:
        trip.expect(date.fromisoformat(before), by=by)


def _set_overtime(rows: models.QuerySet[Overtime], before: int | None) -> None:
    if before:
        rows.update(minutes=before)
    else:
        rows.delete()


def overtime_deeds(extra: Iterable[tuple[Person, date, int]], *, by: Person) -> Deeds:
    """Enter overtime by person and day; it is added to what is there. Return it as deeds."""
    deeds: Deeds = []
    for person, day, minutes in extra:
        row, is_new = Overtime.objects.get_or_create(person=person, day=day, defaults={"minutes": minutes})
        deeds.append(["overtime", row.pk, None if is_new else row.minutes])
        if not is_new:
            row.minutes = min(720, row.minutes + minutes)
            row.save(update_fields=["minutes"])
        Event.objects.note("overtime", by=by, person=person, day=day, minutes=minutes)
    return deeds


def stage_deeds(stage: Stage, *, by: Person, **change: Any) -> Deeds:
    """Write one new fact of a stage; return it as a deed with what it was."""
    ((name, value),) = change.items()
    before = getattr(stage, name)
    if before == value:
        return []
    Stage.objects.filter(pk=stage.pk).update(**{name: value})
    Event.objects.note("stage changed", by=by, order=stage.order, stage=stage.kind, name=name, value=value)
    return [[name, stage.pk, before.isoformat() if isinstance(before, date) else before]]


def trip_deeds(trip: Trip, day: date, *, by: Person) -> Deeds:
    """Expect a trip on another day; return it as a deed with the day before."""
    before = trip.expected_on
    if before == day:
        return []
    trip.expect(day, by=by)
    return [["trip", trip.pk, before.isoformat()]]


def shop_deeds(shop: Shop, *, by: Person | None, **facts: Any) -> Deeds:
    """Write facts of the shop that the plan goes by; return those that changed as a deed with what they were.

    A share of the hours that is taken back stays as it is then: it was set by hand.
    """
    before = {name: getattr(shop, name) for name, value in facts.items() if getattr(shop, name) != value}
    if not before:
        return []
    change_facts(shop, by=by, **facts)
    if "planned_share" in before:
        before["share_by_hand"] = True
    return [["shop", shop.pk, before]]
