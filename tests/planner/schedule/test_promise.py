"""Promises: a day with the timetable that shows it, a day it cannot be before, and why."""

import subprocess
import sys
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.problems import Impossible, Limit, Undecided
from planner.schedule import (
    Due,
    NewOrder,
    Person,
    Promise,
    Stage,
    check_proof,
    check_timetable,
    make_timetable,
    promise,
    with_order,
)
from planner.schedule.bounds import Bounds
from planner.schedule.floor import Floor
from tests.conftest import ROOT
from tests.planner.schedule.workshop import SHORT, holds, new_order, shuffled, workload, workloads

# -- what holds for every promise ------------------------------------------------------------------


@given(workloads(most_orders=3), st.lists(st.integers(0, 60), min_size=1, max_size=3), st.integers(0, 2))
@settings(max_examples=50)
def test_a_promise_can_be_kept_hurts_nobody_and_is_not_before_what_is_proved(work, minutes, wait):
    new = new_order(minutes, order="N", people=(work.people[0].id,), wait=wait)
    limit = Limit(effort=12)
    current = make_timetable(work, limit=Limit(effort=6))
    answer = promise(work, new, limit=limit)
    assert isinstance(answer, Promise)
    assert holds(work, new, answer)
    for due in work.dues:
        if due.order in current.finish:
            assert answer.timetable.finish[due.order] <= max(due.day, current.finish[due.order])
    if answer.undisturbed is not None:
        assert answer.day <= answer.undisturbed


@given(workloads(most_orders=3), st.randoms(use_true_random=False))
@settings(max_examples=20)
def test_the_order_in_which_things_are_entered_does_not_change_a_promise(work, rng):
    new = new_order((40, 50), people=(work.people[0].id,))
    mixed = NewOrder(new.due, new.stages[::-1], new.waits)
    assert promise(work, new, limit=Limit(effort=8)) == promise(
        shuffled(work, rng), mixed, limit=Limit(effort=8)
    )


def proved_day(work, new, days):
    """Return the proved first day of a new order when the others keep these days."""
    floor = Floor(with_order(work, new))
    return Bounds(floor).first_day(floor.orders.index(new.due.order), floor.days_by_order(days)).day


def tight(work):
    """Return a new order, and the days that the others of a workshop reach without it."""
    return new_order((60, 200), people=(work.people[0].id,)), make_timetable(
        work, limit=Limit(effort=1)
    ).finish


@given(workloads())
@settings(max_examples=25)
def test_later_dues_of_the_others_never_make_the_proved_day_later(work):
    new, days = tight(work)
    later = {order: day + 3 for order, day in days.items()}
    assert proved_day(work, new, later) <= proved_day(work, new, days)


@given(workloads(), st.integers(0, 60))
@settings(max_examples=25)
def test_more_hours_never_make_the_proved_day_later(work, overtime):
    new, days = tight(work)
    more = replace(
        work, people=tuple(replace(p, minutes=tuple(m + overtime for m in p.minutes)) for p in work.people)
    )
    assert proved_day(more, new, days) <= proved_day(work, new, days)


@given(workloads(), st.integers(2, 3))
@settings(max_examples=25)
def test_minutes_and_hours_in_another_measure_leave_the_proved_day(work, factor):
    work = replace(work, people=tuple(replace(person, opens=()) for person in work.people))
    new, days = tight(work)
    people = tuple(replace(p, minutes=tuple(m * factor for m in p.minutes)) for p in work.people)
    scaled = replace(
        work, people=people, stages=tuple(replace(s, minutes=s.minutes * factor) for s in work.stages)
    )
    longer = replace(new, stages=tuple(replace(s, minutes=s.minutes * factor) for s in new.stages))
    assert proved_day(scaled, longer, days) == proved_day(work, new, days)


@given(workloads())
@settings(max_examples=25)
def test_other_names_for_the_people_leave_the_proved_day(work):
    new, days = tight(work)
    names = dict(zip(("ann", "ben", "cat"), ("zoe", "yve", "abe"), strict=True))

    def renamed(stages):
        return tuple(replace(stage, people=tuple(names[name] for name in stage.people)) for stage in stages)

    people = tuple(replace(person, id=names[person.id]) for person in work.people)
    other = replace(work, people=people, stages=renamed(work.stages))
    assert proved_day(other, replace(new, stages=renamed(new.stages)), days) == proved_day(work, new, days)


# -- single cases ----------------------------------------------------------------------------------


def busy(days=40, dues=(9, 9)):
    stages = [Stage(o, o, "sew", 900, ("ann",)) for o in "AB"]
    person = Person("ann", tuple(300 if d % 7 < 5 else 0 for d in range(days)))
    return workload([person], stages, dues=[Due(o, day) for o, day in zip("AB", dues, strict=True)])


def test_a_promise_is_exact_when_the_day_found_is_the_day_proved():
    answer = promise(busy(), new_order((600,)), limit=SHORT)
    assert (answer.day, answer.not_before) == (1, 1)
    assert answer.proof.kind == "chain"
    assert answer.undisturbed == 9


def test_a_full_week_is_the_reason_and_is_named():
    work = busy(dues=(4, 7))
    answer = promise(work, new_order((600,)), limit=SHORT)
    assert (answer.day, answer.not_before, answer.undisturbed) == (9, 9, 9)
    assert answer.proof.kind == "capacity"
    assert answer.proof.demand - answer.proof.capacity == 300
    assert set(answer.proof.orders) == {"A", "B", "N"}


def test_what_fits_in_today_needs_no_reason():
    answer = promise(busy(), new_order((200,)), limit=SHORT)
    assert (answer.day, answer.not_before, answer.proof) == (0, 0, None)


def test_an_order_that_is_late_anyway_is_not_made_later():
    answer = promise(busy(dues=(0, 0)), new_order((300,)), limit=SHORT)
    assert answer.timetable.finish["A"] + answer.timetable.finish["B"] == 2 + 7
    assert answer.day == 8


def test_a_pencilled_place_counts_as_load():
    work = busy(dues=(2, 7))
    pencilled = replace(work, dues=tuple(replace(due, firm=False) for due in work.dues))
    answer = promise(pencilled, new_order((600,)), limit=SHORT)
    assert answer.day == 9


def test_what_cannot_be_done_before_the_days_end_is_impossible_with_its_reasons():
    answer = promise(busy(days=10), new_order((900,)), limit=SHORT)
    assert isinstance(answer, Impossible)
    assert "It cannot be ready by Wed 5 May" in answer.problems[0].what
    assert answer.problems[0].change
    assert check_proof(with_order(busy(days=10), new_order((900,))), answer.proof) == ()


def test_what_nobody_ever_works_on_is_impossible():
    work = busy()
    work = replace(work, people=(*work.people, Person("ben", (0,) * 40)))
    answer = promise(work, new_order((60,), people=("ben",)), limit=SHORT)
    assert isinstance(answer, Impossible)
    assert answer.proof.kind == "chain"


def test_a_month_without_any_hours_is_the_reason_and_is_named():
    work = workload([Person("ann", (0,) * 31 + (300,) * 2)], [])
    answer = promise(work, new_order((600,)), limit=SHORT)
    assert (answer.day, answer.not_before) == (32, 32)
    answer = promise(replace(work, days=31), new_order((600,)), limit=SHORT)
    assert isinstance(answer, Impossible)
    assert "at most 0 minutes of that can be done" in answer.problems[0].what


def test_a_wait_that_is_longer_than_the_days_looked_at_is_impossible_and_says_how_long():
    answer = promise(busy(), new_order((60, 60), wait=400), limit=SHORT)
    assert isinstance(answer, Impossible)
    assert "400 days of waiting" in answer.problems[0].what
    assert "look further ahead" in answer.problems[0].change


def test_a_new_order_pinned_to_a_closed_day_is_impossible_and_not_moved_in_silence():
    saturday = new_order((60,), pin=5)
    answer = promise(busy(), saturday, limit=SHORT)
    assert isinstance(answer, Impossible)
    assert check_proof(with_order(busy(), saturday), answer.proof) == ()


def test_a_place_that_was_not_found_is_undecided_and_never_impossible():
    new = new_order((60, 60, 60), least=60)
    work = workload([Person("ann", (90, 90))], [])
    answer = promise(work, new, limit=SHORT)
    assert isinstance(answer, Undecided)
    assert "not proved" in answer.problems[0].what


@pytest.mark.parametrize("effort", [1, 2, 40])
def test_even_the_shortest_search_gives_a_day_that_can_be_kept(effort):
    assert holds(busy(), new_order((600,)), promise(busy(), new_order((600,)), limit=Limit(effort=effort)))


def test_whoever_watches_hears_of_earlier_days():
    heard = []
    promise(busy(), new_order((600,)), limit=Limit(effort=60, watch=heard.append))
    assert [answer.day for answer in heard] == sorted((answer.day for answer in heard), reverse=True)
    assert heard[-1].day == 1


def test_a_pin_that_is_missed_already_does_not_stop_a_promise():
    work = busy()
    saturday = Stage("V", "V", "visit", 30, ("ann",), pin=5)
    work = replace(work, stages=(*work.stages, saturday))
    answer = promise(work, new_order((600,)), limit=SHORT)
    assert (answer.day, answer.not_before) == (1, 1)
    (problem,) = check_timetable(with_order(work, new_order((600,))), answer.timetable)
    assert problem.where == ("V",)


def test_a_shop_without_any_order_promises_the_first_day_that_holds_the_work():
    answer = promise(workload([Person("ann", (0, 300, 300))], []), new_order((400,)), limit=SHORT)
    assert (answer.day, answer.not_before, answer.undisturbed) == (2, 2, 2)


def test_a_limit_in_seconds_is_kept_to():
    assert promise(busy(dues=(4, 7)), new_order((600,)), limit=Limit(seconds=0.2)).day == 9


def test_the_solver_is_loaded_only_when_it_is_needed():
    code = "import sys, planner.schedule; sys.exit('ortools' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False, cwd=ROOT).returncode == 0
