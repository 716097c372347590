"""Days that nobody can mean, or that the calendar makes odd: each is told, and none moves in silence."""

from dataclasses import replace
from datetime import date, timedelta

import holidays
import pytest

from planner.problems import BadInput, Impossible, Limit
from planner.schedule import (
    Due,
    Person,
    Promise,
    Proof,
    Stage,
    Timetable,
    check_proof,
    check_timetable,
    feasible,
    make_timetable,
    minutes_by_day,
    promise,
    what_if,
)
from tests.planner.schedule.workshop import SHORT, holds, new_order, workload

WEEK = (300, 300, 300, 300, 300, 0, 0)


def shop(origin, days, *, country="US"):
    """Return one person on weekdays, closed on the public holidays of a country."""
    closed = set(holidays.country_holidays(country, years=(origin.year, origin.year + 1)))
    minutes = minutes_by_day(WEEK, closed=closed, extra={}, origin=origin, days=days)
    return workload([Person("ann", minutes)], [], origin=origin)


def asked(work, minutes, day, **more):
    """Return the workload with one order due on a date."""
    stage = Stage("A", "A", "sew", minutes, ("ann",), **more)
    return replace(work, stages=(stage,), dues=(Due("A", (day - work.origin).days),))


def test_a_quilt_due_on_a_holiday_is_finished_on_the_working_day_before():
    thanksgiving = date(2027, 11, 25)
    work = asked(shop(date(2027, 11, 22), 14), 900, thanksgiving)
    made = make_timetable(work, limit=SHORT)
    assert work.date_of(made.finish["A"]) == thanksgiving - timedelta(days=1)
    assert made.late == {"A": 0}


def test_the_hours_of_a_holiday_are_not_counted_on():
    thanksgiving = date(2027, 11, 25)
    work = asked(shop(date(2027, 11, 22), 14), 901, thanksgiving)
    proof = feasible(work, {}, limit=SHORT)
    assert isinstance(proof, Proof)
    assert check_proof(work, proof) == ()
    assert (proof.demand, proof.capacity) == (901, 900)


def test_a_holiday_of_another_country_is_one_only_there():
    boxing_day, origin = date(2028, 12, 26), date(2028, 12, 25)
    for country, minutes in (("GB", 0), ("US", 300)):
        work = shop(origin, 5, country=country)
        assert work.people[0].minutes[(boxing_day - origin).days] == minutes


def test_a_due_that_is_past_is_late_by_its_days_and_nobody_else_pays_for_it():
    work = shop(date(2027, 4, 26), 30)
    stages = tuple(Stage(o, o, "sew", 300, ("ann",)) for o in "AB")
    work = replace(work, stages=stages, dues=(Due("A", -3), Due("B", 0)))
    made = make_timetable(work, limit=SHORT)
    assert check_timetable(work, made) == ()
    assert made.late["A"] + made.late["B"] == 3 + 1


def test_a_due_that_is_past_is_said_to_be_over():
    work = asked(shop(date(2027, 4, 26), 30), 300, date(2027, 4, 23))
    proof = feasible(work, {}, limit=SHORT)
    assert isinstance(proof, Proof)
    assert "that day is over" in proof.words(work)


def test_a_pin_on_a_holiday_cannot_be_kept_and_is_named():
    work = asked(shop(date(2027, 11, 22), 14), 60, date(2027, 12, 3), pin=3)
    assert isinstance(feasible(work, {}, limit=SHORT), Proof)
    (problem,) = check_timetable(work, make_timetable(work, limit=SHORT))
    assert problem.where == ("A",)


def test_a_pin_before_today_is_refused_and_its_stage_named():
    with pytest.raises(BadInput, match="stage A is pinned to a day outside"):
        asked(shop(date(2027, 4, 26), 30), 60, date(2027, 4, 30), pin=-1)


def test_a_stage_for_nobody_is_refused_by_its_name():
    with pytest.raises(BadInput, match="nobody may do stage A"):
        replace(asked(shop(date(2027, 4, 26), 9), 60, date(2027, 4, 30)).stages[0], people=())


def test_a_month_without_hours_is_stepped_over_and_is_the_reason():
    work = shop(date(2027, 4, 26), 60)
    ill = replace(work.people[0], minutes=(0,) * 31 + work.people[0].minutes[31:])
    idle = replace(work, people=(ill,))
    answer = promise(idle, new_order((300,)), limit=SHORT)
    assert holds(idle, new_order((300,)), answer)
    assert answer.day == answer.not_before == 31  # Thu 27 May, the first day with hours
    assert answer.proof is not None


def test_weeks_without_any_hours_promise_nothing_and_say_what_would_help():
    work = shop(date(2027, 4, 26), 30)
    idle = replace(work, people=(replace(work.people[0], minutes=(0,) * 30),))
    answer = promise(idle, new_order((60,)), limit=SHORT)
    assert isinstance(answer, Impossible)
    assert "more working hours" in answer.problems[0].change


def test_a_wait_beyond_the_days_looked_at_is_impossible_and_names_its_days():
    answer = promise(shop(date(2027, 4, 26), 60), new_order((60, 60), wait=61), limit=SHORT)
    assert isinstance(answer, Impossible)
    assert "61 days of waiting" in answer.problems[0].what


@pytest.mark.parametrize("spring", [date(2027, 3, 14), date(2027, 3, 28), date(2027, 11, 7)])
def test_the_day_the_clocks_change_has_the_hours_entered_and_a_wait_over_it_its_days(spring):
    """US and European changes of 2027: days are counted by the calendar, not by 24 hours."""
    origin = spring - timedelta(days=2)
    people = [Person("ann", (300,) * 8, (540,) * 8)]
    new = new_order((300, 300), wait=2)
    work = workload(people, [], origin=origin)
    answer = promise(work, new, limit=SHORT)
    assert isinstance(answer, Promise)
    assert [work.date_of(s.day) for s in answer.timetable.stints] == [origin, origin + timedelta(days=2)]
    assert {(s.start, s.minutes) for s in answer.timetable.stints} == {(540, 300)}


def test_the_week_numbered_53_is_followed_by_the_first_and_none_is_left_out():
    """ISO 8601: 2026 has 53 weeks; Mon 28 Dec 2026 to Sun 3 Jan 2027 is the last of them."""
    origin = date(2026, 12, 28)
    assert origin.isocalendar()[:2] == (2026, 53)
    work = shop(origin, 14)
    assert work.people[0].minutes == (300, 300, 300, 300, 0, 0, 0, 300, 300, 300, 300, 300, 0, 0)
    made = make_timetable(asked(work, 1500, date(2027, 1, 4)), limit=SHORT)
    assert work.date_of(made.finish["A"]) == date(2027, 1, 4)
    assert work.date_of(made.finish["A"]).isocalendar()[:2] == (2027, 1)


def test_a_leap_day_is_a_day():
    work = shop(date(2028, 2, 28), 4)
    assert work.date_of(1) == date(2028, 2, 29)
    assert isinstance(feasible(asked(work, 600, date(2028, 2, 29)), {}, limit=SHORT), Timetable)


def test_an_illness_of_a_person_who_is_unknown_changes_nothing_in_silence_but_is_refused():
    work = asked(shop(date(2027, 4, 26), 30), 300, date(2027, 4, 30))
    gone = replace(work.people[0], id="bea")
    with pytest.raises(BadInput, match="may be done by ann, who is not among the people"):
        what_if(work, replace(work, people=(gone,)), limit=Limit(effort=3))
