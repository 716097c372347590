"""What would have been told of the shop's own jobs, against what became of them."""

from random import Random

import pytest

from planner.problems import BadInput
from planner.schedule import BackTest, back_test


def jobs(count, *, seed, middle=1.0, spread=0.12):
    """Return jobs whose minutes spent are log-normal about the estimate, or off by a factor."""
    rng = Random(seed)
    return [(1000, max(1, round(1000 * middle * rng.lognormvariate(0, spread)))) for _ in range(count)]


def test_ten_jobs_say_nothing_and_the_eleventh_is_the_first_that_is_told():
    assert back_test(jobs(10, seed=1)) is None
    assert back_test(jobs(11, seed=1)).jobs == 1


@pytest.mark.parametrize("middle", [0.8, 1.0, 1.4])
def test_of_jobs_told_with_nine_in_ten_about_nine_in_ten_are_kept(middle):
    """Asked for is 85 to 95 per cent, however wrong all estimates are together."""
    told = [back_test(jobs(60, seed=seed, middle=middle)) for seed in range(20)]
    kept, count = sum(each.kept for each in told), sum(each.jobs for each in told)
    assert 0.85 <= kept / count <= 0.95


def test_a_lower_chance_is_kept_less_often():
    half = [back_test(jobs(60, seed=seed), told=0.5).share for seed in range(20)]
    assert 0.44 <= sum(half) / 20 <= 0.56


def test_each_job_is_told_from_those_before_it_alone():
    steady = [(100, 100), (100, 101)] * 5
    assert back_test([*steady, (100, 300)]) == BackTest(0.9, 1, 0)
    assert back_test([(100, 300), *steady]) == BackTest(0.9, 1, 1)


@pytest.mark.parametrize(("field", "finished", "told"), [("told", [], 1.0), ("finished", [(0, 5)], 0.9)])
def test_senseless_questions_are_refused(field, finished, told):
    with pytest.raises(BadInput) as fault:
        back_test(finished, told=told)
    assert fault.value.field == field
