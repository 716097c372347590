"""The last day on which an order can be begun and still be ready: each day named was seen to fit."""

from dataclasses import replace

import pytest

from planner.problems import Limit
from planner.schedule import Due, Person, Stage, last_day_to_begin, promise
from planner.schedule.dispatch import Bench
from tests.bench.planted import planted
from tests.planner.schedule.workshop import new_order, workload


def one_person(*orders, minutes=(100,) * 40):
    """Return a shop of one person with orders of (name, minutes, last day)."""
    stages = [Stage(name, name, "sew", effort, ("ann",)) for name, effort, _ in orders]
    return workload([Person("ann", minutes)], stages, dues=[Due(name, day) for name, _, day in orders])


def last_day(work, new, *, by, most):
    promised = promise(work, new, limit=Limit(effort=5))
    return last_day_to_begin(work, new, promised, by=by, most=most)


@pytest.mark.parametrize(("by", "most", "last"), [(9, 20, 7), (9, 5, 5), (30, 60, 28), (2, 20, 0), (9, 0, 0)])
def test_three_hundred_minutes_at_a_hundred_a_day_begin_two_days_before(by, most, last):
    assert last_day(one_person(), new_order((300,)), by=by, most=most) == last


def test_where_not_even_today_is_early_enough_no_day_is_named():
    work, new = one_person(), new_order((300,))
    assert last_day(work, new, by=1, most=20) is None
    assert last_day(work, new, by=9, most=-1) is None


def test_the_others_keep_their_days():
    """What must be done by day 9 leaves the new order five days: it begins by day 5."""
    work = one_person(("A", 500, 9))
    assert last_day(work, new_order((500,)), by=9, most=20) == 5
    assert last_day(one_person(("A", 500, 4)), new_order((500,)), by=9, most=20) == 5
    late = one_person(("A", 500, 9), ("B", 300, 11))
    assert last_day(late, new_order((500,)), by=12, most=20) == 8


def test_an_order_that_presses_more_does_not_take_the_days_of_one_that_cannot_begin_before():
    """A has days 5, 6 and 7 and needs all three; what is wanted by day 6 has to be done before them."""
    stage = Stage("A", "A", "sew", 300, ("ann",), ready=5)
    work = workload([Person("ann", (100,) * 40)], [stage], dues=[Due("A", 7)])
    assert last_day(work, new_order((300,)), by=6, most=20) == 2


@pytest.mark.parametrize("people", [1, 2])
def test_by_halving_a_day_is_found_with_few_plans_and_the_order_fits_from_it_on(monkeypatch, people):
    case = planted(30, people, family="mid", seed=3)
    promised = promise(case.workload, case.new, limit=Limit(effort=5))
    by = promised.day + 9
    made, run = [], Bench.run
    monkeypatch.setattr(Bench, "run", lambda bench: made.append(bench) or run(bench))
    found = last_day_to_begin(case.workload, case.new, promised, by=by, most=14)
    assert found is not None
    assert len(made) <= 2 * 6
    monkeypatch.undo()
    later = tuple(_begun(stage, found) for stage in case.new.stages)
    again = promise(case.workload, replace(case.new, stages=later), limit=Limit(effort=60))
    assert again.day <= by


def _begun(stage, day):
    return replace(stage, ready=max(stage.ready, day))
