"""Scenarios of the trade, played as questions to the planner: three graduations, tour shirts, Christmas."""

from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

import holidays

from planner.problems import Limit
from planner.schedule import (
    Due,
    NewOrder,
    Person,
    Promise,
    Stage,
    Wait,
    Workload,
    check_timetable,
    last_starts,
    minutes_by_day,
    options,
    promise,
    what_if,
    with_order,
    with_overtime,
)
from tests.planner.schedule.test_reference_shop import graduations, reference_people
from tests.planner.schedule.workshop import SHORT, holds, workload

# -- three graduations, one day, 6,782 minutes of 6,780 ----------------------------------------------

HAND_OVER = 24  # Thu 20 May 2027


def accepted(*orders):
    """Return the shop with what it owes and the graduations accepted, and the third as a new order."""
    work, due = graduations()
    dues = tuple(Due(order, day) for order, day in due.items())
    kept = {order for order in due if order not in "ABC" or order in orders}
    stage = next(stage for stage in work.stages if stage.order == "C")
    rest = replace(
        work,
        stages=tuple(stage for stage in work.stages if stage.order in kept),
        dues=tuple(entry for entry in dues if entry.order in kept),
    )
    return rest, NewOrder(Due("C", HAND_OVER), (stage,), ())


def test_the_third_graduation_is_a_day_late_in_its_place_and_there_are_three_ways_out():
    """Her quilting by somebody else saves 98 minutes here, a figure assumed for the test."""
    shop, third = accepted("A", "B")
    sent_out = replace(third, stages=(replace(third.stages[0], minutes=1050 - 98),))
    overtime = with_overtime(shop, {("maker", 3): 2})
    ways = {
        "in its place": (shop, third),
        "quilted outside": (shop, sent_out),
        "two minutes more": (overtime, third),
        "without B": (accepted("A")[0], third),
    }
    told = dict(options(ways, limit=Limit(effort=200)))
    assert all(holds(*ways[name], answer) for name, answer in told.items())
    assert (told["in its place"].not_before, told["in its place"].day) == (HAND_OVER + 1, HAND_OVER + 1)
    proof = told["in its place"].proof
    assert (proof.demand, proof.capacity) == (6782, 6780)
    assert all(told[name].day <= HAND_OVER for name in list(ways)[1:])


def fever(shop):
    """Return the shop with the maker in bed from Thu 6 to Sun 9 May."""
    maker = shop.people[0]
    minutes = tuple(0 if 10 <= day <= 13 else m for day, m in enumerate(maker.minutes))
    return replace(shop, people=(replace(maker, minutes=minutes), *shop.people[1:]))


def test_four_days_of_fever_cost_nobody_a_day_where_the_third_was_declined():
    shop, _ = accepted("A", "B")
    effect = what_if(shop, fever(shop), limit=SHORT)
    assert dict(effect.late) == {}
    assert (effect.overtime_at_least, effect.overtime_enough) == (0, 0)
    assert effect.moved.minutes >= 600
    assert check_timetable(fever(shop), effect.timetable) == ()


def test_four_days_of_fever_cost_two_days_of_overtime_where_every_minute_was_promised():
    shop, third = accepted("A", "B")
    full = with_order(shop, replace(third, stages=(replace(third.stages[0], minutes=1048),)))
    effect = what_if(full, fever(full), limit=Limit(effort=400))
    assert effect.late
    assert effect.overtime_at_least == 600
    assert 600 <= effect.overtime_enough <= 630
    assert check_timetable(with_overtime(fever(full), effect.extra), effect.mended) == ()
    assert all(effect.mended.late[due.order] == 0 for due in full.dues)


# -- double-sided tour shirts: proof sent, silence, cloth and an outside quilter ----------------------

ORIGIN = date(2027, 6, 14)  # the Monday a week after the proof was sent
CLOSED = {date(2027, 7, 5)}


def index(month, day):
    return (date(2027, month, day) - ORIGIN).days


def after_business_days(day, count):
    while count:
        day += timedelta(days=1)
        count -= day.weekday() < 5 and day not in CLOSED
    return day


def tour_shirts(yes: date) -> tuple[Workload, NewOrder]:
    """Return nine free hours a week and the quilt: 18 h before quilting, of which 7.2 h need no cloth.

    Cloth is ordered on the first business day from the yes and takes 12; from the last stitch to the
    quilt's return on Tue 17 Aug lie 22 days with the quilter's closure, and 3.6 h come after it.
    """
    days = 120
    week = minutes_by_day((108,) * 5 + (0, 0), closed=CLOSED, extra={}, origin=ORIGIN, days=days)
    ordered = yes
    while ordered.weekday() > 4 or ordered in CLOSED:
        ordered += timedelta(days=1)
    cloth = (after_business_days(ordered, 12) - ORIGIN).days
    stages = (
        Stage("trim", "N", "trim", 432, ("maker",), ready=(yes - ORIGIN).days),
        Stage("join", "N", "join", 648, ("maker",), ready=cloth),
        Stage("finish", "N", "finish", 216, ("maker",)),
    )
    new = NewOrder(Due("N", index(8, 19)), stages, (Wait("trim", "join"), Wait("join", "finish", 23)))
    return Workload(ORIGIN, days, (Person("maker", week),), (), (), (), ()), new


def test_the_last_day_to_start_the_tour_shirts_is_tuesday_13_july_two_days_before_the_cloth():
    work, new = tour_shirts(date(2027, 6, 26))
    assert (ORIGIN + timedelta(days=new.stages[1].ready)) == date(2027, 7, 15)
    starts = last_starts(with_order(work, new))
    assert work.date_of(starts["trim"]) == date(2027, 7, 13)
    assert work.date_of(starts["join"]) == date(2027, 7, 19)
    assert work.date_of(starts["finish"]) == date(2027, 8, 18)


def test_silence_costs_nothing_until_the_last_day_of_june_and_a_working_day_for_each_day_after():
    days = [date(2027, 6, 26), date(2027, 6, 30), date(2027, 7, 1), date(2027, 7, 2)]
    told = dict(options({f"{day}": tour_shirts(day) for day in days}, limit=SHORT))
    ready = [ORIGIN + timedelta(days=told[f"{day}"].day) for day in days]
    assert ready[0] <= date(2027, 8, 19)
    assert ready[1] == date(2027, 8, 19)
    assert ready[2:] == [date(2027, 8, 20), date(2027, 8, 23)]
    assert all(answer.day == answer.not_before for answer in told.values())


# -- Christmas: 750 minutes between Mon 22 Nov and Sat 18 Dec 2027 ------------------------------------


def test_nine_shirts_brought_in_on_22_november_are_ready_before_18_december():
    """Thanksgiving is closed. Waits of 1 day to dry and 3 for each yes are assumed."""
    origin, days = date(2027, 11, 22), 60
    closed = set(holidays.country_holidays("US", years=2027))
    maker, helper = reference_people(origin, days)
    week = minutes_by_day((300,) * 5 + (0, 0), closed=closed, extra={}, origin=origin, days=days)
    work = workload([replace(maker, minutes=week), helper], [], origin=origin)
    parts = {"wash": (60, 0), "design": (130, 1), "cut": (140, 3), "join": (130, 3), "quilt": (290, 0)}
    stages = tuple(Stage(kind, "N", kind, minutes, ("maker",)) for kind, (minutes, _) in parts.items())
    waits = tuple(Wait(a.id, b.id, parts[b.kind][1]) for a, b in pairwise(stages))
    assert sum(stage.minutes for stage in stages) == 750
    answer = promise(work, NewOrder(Due("N", 25), stages, waits), limit=SHORT)
    assert isinstance(answer, Promise)
    assert holds(work, NewOrder(Due("N", 25), stages, waits), answer)
    assert answer.day == answer.not_before
    assert work.date_of(answer.day) <= date(2027, 12, 17)
    assert all(work.date_of(stint.day) != date(2027, 11, 25) for stint in answer.timetable.stints)
