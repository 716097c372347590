"""Chances of being on time, against what can be worked out by hand, and never against luck."""

from math import erf, log, sqrt

import pytest

from planner.problems import BadInput, Limit
from planner.schedule import Due, Person, Stage, Wait, make_timetable, risk
from tests.planner.schedule.workshop import shuffled, workload

DAYS = 40


def one_quilt(due, *, spread=0.0, minutes=1000):
    """Return a quilt of about ten days of 100 minutes."""
    stage = Stage("A", "A", "sew", minutes, ("ann",), spread=spread)
    return workload([Person("ann", (100,) * DAYS)], [stage], dues=[Due("A", due)])


def chances(work, *, bias=0.0, samples=400, seed=1):
    return risk(work, make_timetable(work, limit=Limit(effort=1)), bias=bias, samples=samples, seed=seed)


def below(ratio, spread):
    """Return the chance that a log-normal factor with median 1 is at most a ratio."""
    return (1 + erf(log(ratio) / spread / sqrt(2))) / 2


def test_without_any_doubt_an_order_is_on_time_or_is_not():
    assert chances(one_quilt(9), samples=3) == {"A": 1.0}
    assert chances(one_quilt(8), samples=3) == {"A": 0.0}


@pytest.mark.parametrize(("spread", "bias"), [(0.3, 0.0), (0.0, 0.3), (0.2, 0.2)])
@pytest.mark.parametrize("days", [9, 10, 13])
def test_one_stage_alone_is_on_time_as_often_as_the_normal_law_says(spread, bias, days):
    """The logarithm of the minutes is normal; 400 samples stray by 2.5 % (one standard error)."""
    work = one_quilt(days - 1, spread=spread)
    expected = below(days * 100 / 1000, sqrt(spread**2 + bias**2))
    assert abs(chances(work, bias=bias)["A"] - expected) < 0.09


def twenty_quilts():
    stages = [Stage(f"{n:02}", f"{n:02}", "sew", 100, ("ann",), spread=0.3) for n in range(20)]
    dues = [Due(s.order, n + 2) for n, s in enumerate(stages)]
    return workload([Person("ann", (100,) * 60)], stages, dues=dues)


def test_a_bias_that_all_share_makes_the_last_of_many_less_sure_while_single_errors_cancel():
    apart, shared = chances(twenty_quilts(), bias=0.0), chances(twenty_quilts(), bias=0.25)
    assert shared["19"] < apart["19"] - 0.05


def test_waits_that_may_take_longer_count():
    def with_wait(spread):
        stages = [Stage(f"A{n}", "A", "sew", 50, ("ann",), spread=0) for n in range(2)]
        wait = Wait("A0", "A1", 4, spread=spread)
        return workload([Person("ann", (100,) * DAYS)], stages, waits=[wait], dues=[Due("A", 5)])

    assert chances(with_wait(0))["A"] == 1
    # Late when the wait takes two days more, so from 1.5 on before rounding to days.
    assert abs(chances(with_wait(2.0))["A"] - (1 + erf(1.5 / 2 / sqrt(2))) / 2) < 0.09


def test_work_that_does_not_fit_in_the_days_looked_at_is_not_on_time():
    assert chances(one_quilt(DAYS + 9, minutes=100 * DAYS + 1), samples=2) == {"A": 0.0}


def test_the_same_seed_gives_the_same_chances_however_things_were_entered():
    from random import Random

    work = twenty_quilts()
    assert chances(work, bias=0.2, samples=20) == chances(shuffled(work, Random(3)), bias=0.2, samples=20)


@pytest.mark.parametrize(("field", "more"), [("samples", {"samples": 0}), ("bias", {"bias": -0.1})])
def test_senseless_questions_are_refused(field, more):
    with pytest.raises(BadInput) as fault:
        chances(one_quilt(9), **more)
    assert fault.value.field == field
