"""Timetables made for any workshop can be worked as written, and say the same for the same question."""

from dataclasses import replace
from itertools import pairwise
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.problems import Limit
from planner.schedule import (
    Due,
    Machine,
    Person,
    Proof,
    Stage,
    Wait,
    check_timetable,
    feasible,
    make_timetable,
)
from planner.schedule.dispatch import dispatch
from planner.schedule.floor import Floor
from planner.schedule.planning import switches
from tests.planner.schedule.workshop import SHORT, chain, shuffled, workload, workloads

FEW = Limit(effort=4)
WEEKDAYS = tuple(300 if day % 7 < 5 else 0 for day in range(60))
SATURDAYS = tuple(360 if day % 7 == 5 else 0 for day in range(60))


@given(workloads())
@settings(max_examples=80)
def test_every_timetable_can_be_worked_as_written(work):
    assert check_timetable(work, make_timetable(work, limit=FEW)) == ()


@given(workloads(), st.randoms(use_true_random=False))
@settings(max_examples=25)
def test_the_order_in_which_things_are_entered_changes_nothing(work, rng):
    made = make_timetable(work, limit=FEW)
    again = make_timetable(shuffled(work, rng), limit=FEW)
    assert (made.stints, made.finish, made.late, made.priority) == (
        again.stints,
        again.finish,
        again.late,
        again.priority,
    )


@given(workloads(), st.randoms(use_true_random=False))
@settings(max_examples=60)
def test_days_that_some_timetable_reaches_are_never_called_impossible(work, rng):
    floor = Floor(work)
    run = dispatch(floor, rng.sample(range(len(floor.stages)), len(floor.stages)))
    reached = floor.timetable(run.stints, run.done, run.keys)
    assert check_timetable(work, reached) == ()
    assert not isinstance(feasible(work, reached.finish, limit=FEW), Proof)


@given(workloads())
@settings(max_examples=25)
def test_a_timetable_follows_its_own_priority_again(work):
    firm = replace(work, dues=tuple(replace(due, firm=True) for due in work.dues))
    made = make_timetable(firm, limit=FEW)
    floor = Floor(firm)
    run = dispatch(floor, [made.priority[stage.id] for stage in floor.stages])
    assert floor.timetable(run.stints, run.done, run.keys).stints == made.stints


def three_quilts(dues):
    stages = [Stage(o, o, "sew", 900, ("ann",)) for o in "ABC"]
    return workload([Person("ann", WEEKDAYS)], stages, dues=dues)


def test_a_day_off_gets_no_work():
    made = make_timetable(three_quilts([]), limit=FEW)
    assert all(stint.day % 7 < 5 for stint in made.stints)


def test_work_starts_when_the_shop_opens():
    person = Person("ann", WEEKDAYS, (540,) * 60)
    made = make_timetable(workload([person], [Stage("A", "A", "sew", 400, ("ann",))]), limit=FEW)
    assert [(stint.day, stint.start, stint.minutes) for stint in made.stints] == [
        (0, 540, 300),
        (1, 540, 100),
    ]


def test_the_order_due_first_is_finished_first():
    made = make_timetable(three_quilts([Due("A", 20), Due("B", 2), Due("C", 9)]), limit=FEW)
    assert made.finish == {"B": 2, "C": 7, "A": 10}
    assert made.late == {"A": 0, "B": 0, "C": 0}


def test_when_not_all_can_be_on_time_the_heavier_one_is():
    for heavy in "ABC":
        dues = [Due(o, 2, weight=10 if o == heavy else 1) for o in "ABC"]
        assert make_timetable(three_quilts(dues), limit=SHORT).late[heavy] == 0


def test_what_is_pencilled_in_never_makes_a_paid_order_late():
    dues = [Due("A", 2, firm=False, weight=9), Due("B", 2), Due("C", 7)]
    made = make_timetable(three_quilts(dues), limit=SHORT)
    assert (made.late["B"], made.late["C"]) == (0, 0)
    assert made.finish["A"] == 10


@given(workloads())
@settings(max_examples=25)
def test_paid_orders_are_as_punctual_with_what_is_pencilled_in_as_without(work):
    apart = replace(work, waits=tuple(wait for wait in work.waits if wait.before[0] == wait.after[0]))
    firm = {due.order for due in apart.dues if due.firm}
    stages = tuple(stage for stage in apart.stages if stage.order in firm)
    waits = tuple(wait for wait in apart.waits if wait.before[0] in firm)
    alone = replace(apart, dues=tuple(due for due in apart.dues if due.firm), stages=stages, waits=waits)
    without = make_timetable(alone, limit=Limit(effort=4))
    made = make_timetable(apart, limit=Limit(effort=8))
    assert check_timetable(apart, made) == ()
    assert all(made.late[order] <= without.late[order] for order in firm)


def test_a_stage_pinned_to_a_day_is_done_on_it_before_anything_else():
    stages = [Stage("A", "A", "sew", 900, ("ann",)), Stage("B", "B", "visit", 60, ("ann",), pin=2)]
    made = make_timetable(workload([Person("ann", WEEKDAYS)], stages, dues=[Due("A", 3)]), limit=FEW)
    assert [stint.day for stint in made.stints if stint.stage == "B"] == [2]


def test_a_pin_that_cannot_be_kept_is_told_and_not_hidden():
    stages = [Stage("B", "B", "visit", 60, ("ann",), pin=5)]  # a Saturday
    work = workload([Person("ann", WEEKDAYS)], stages)
    (problem,) = check_timetable(work, make_timetable(work, limit=FEW))
    assert "pinned to day 5" in problem.what
    assert isinstance(feasible(work, {}, limit=FEW), Proof)


def test_a_quilt_stays_on_the_frame_overnight_and_the_next_one_waits():
    frame = Machine("frame")
    stages = [Stage(o, o, "quilt", 400, (who,), machine="frame") for o, who in (("A", "ann"), ("B", "ben"))]
    people = [Person("ann", (300,) * 9), Person("ben", (300,) * 9)]
    work = workload(people, stages, machines=[frame], dues=[Due("A", 1), Due("B", 8)])
    made = make_timetable(work, limit=FEW)
    assert check_timetable(work, made) == ()
    assert made.finish == {"A": 1, "B": 2}


def test_the_helper_works_only_on_what_she_may():
    stages, waits = chain("A", (200, 200))
    stages[0] = replace(stages[0], people=("ann", "hal"))
    made = make_timetable(
        workload([Person("ann", (0, 0, *WEEKDAYS[2:])), Person("hal", SATURDAYS)], stages, waits=waits),
        limit=FEW,
    )
    assert {stint.stage for stint in made.stints if stint.person == "hal"} <= {"A0"}


def test_a_wait_counts_from_the_day_after_and_none_goes_on_in_the_same_minute():
    stages, _ = chain("A", (60, 60, 60))
    made = make_timetable(
        workload([Person("ann", WEEKDAYS)], stages, waits=[Wait("A0", "A1"), Wait("A1", "A2", 1)]), limit=FEW
    )
    assert [(stint.day, stint.start) for stint in made.stints] == [(0, 0), (0, 60), (1, 0)]


def test_the_coming_fortnight_stays_as_it_was_when_nothing_presses():
    work = three_quilts([Due("A", 40), Due("B", 41), Due("C", 42)])
    before = make_timetable(three_quilts([Due("A", 42), Due("B", 41), Due("C", 40)]), limit=FEW)
    after = make_timetable(work, previous=before, limit=SHORT)
    assert after.stints == before.stints


def test_work_that_does_not_fit_in_the_days_looked_at_is_named():
    work = workload([Person("ann", (100,) * 3)], [Stage("A", "A", "sew", 301, ("ann",))], dues=[Due("A", 1)])
    made = make_timetable(work, limit=FEW)
    assert (made.finish, made.late) == ({"A": 3}, {"A": 2})
    assert [problem.figures["missing"] for problem in check_timetable(work, made)] == [1]


def test_whoever_watches_hears_of_better_timetables_and_can_stop_the_search():
    heard = []

    def watch(best):
        heard.append(best)
        return len(heard) < 2

    dues = [Due(o, 2, weight=w) for o, w in (("A", 1), ("B", 2), ("C", 3))]
    made = make_timetable(three_quilts(dues), limit=Limit(effort=500, watch=watch))
    assert len(heard) == 2
    assert made == heard[-1]


def test_going_from_order_to_order_within_a_day_is_counted_and_going_on_is_not():
    stages = [Stage(f"{o}{n}", o, "sew", 60, ("ann",)) for o in "AB" for n in range(2)]
    floor = Floor(workload([Person("ann", (180, 180))], stages))
    assert [stage.id for stage in floor.stages] == ["A0", "A1", "B0", "B1"]
    assert switches(floor, dispatch(floor, [0, 1, 2, 3])) == 1  # A0 A1 B0 | B1
    assert switches(floor, dispatch(floor, [0, 2, 1, 3])) == 2  # A0 B0 A1 | B1


@pytest.mark.parametrize("seed", [3, 6, 10])
def test_of_equally_late_timetables_the_calmer_is_kept_and_lateness_always_comes_first(seed):
    rng = Random(seed)
    stages, waits = [], []
    for order in "ABCD":
        its, between = chain(order, [rng.choice((100, 130, 170)) for _ in range(3)])
        stages, waits = stages + its, waits + between
    dues = [Due(order, rng.randint(0, 2)) for order in "ABCD"]
    heard = []
    work = workload([Person("ann", (300,) * 40)], stages, waits=waits, dues=dues)
    make_timetable(work, limit=Limit(effort=120, watch=heard.append))
    scores = [(sum(each.late.values()), changes(each)) for each in heard]
    assert all(later < earlier for earlier, later in pairwise(scores))
    assert any(later[0] == earlier[0] for earlier, later in pairwise(scores))


def changes(made):
    """Return the changes from one order to another within a day, for one person."""
    pairs = pairwise(sorted(made.stints, key=lambda stint: (stint.day, stint.start)))
    return sum(a.day == b.day and a.stage[0] != b.stage[0] for a, b in pairs)
