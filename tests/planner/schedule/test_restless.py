"""A pressing stage breaks in on the work of the day, and what was laid down is taken up again."""

from hypothesis import given, settings
from hypothesis import strategies as st

from planner.schedule import Machine, Person, Stage, Wait, check_timetable
from planner.schedule.dispatch import Patience, dispatch
from planner.schedule.floor import Floor
from planner.schedule.restless import dispatch_restlessly
from tests.planner.schedule.workshop import workload, workloads


def stints(floor, run):
    return [
        (t.stage, t.person, t.start, t.minutes)
        for t in floor.timetable(run.stints, run.done, run.keys).stints
    ]


def hand_over(least=0, machine=None):
    """Return Ann at a long seam while Ben cuts what she is to quilt next; keys: the quilting presses."""
    stages = [
        Stage("cut", "B", "cut", 60, ("ben",)),
        Stage("quilt", "B", "quilt", 90, ("ann",)),
        Stage("seam", "A", "sew", 240, ("ann",), least=least, machine=machine),
    ]
    machines = [Machine(machine)] if machine else []
    people = [Person("ann", (300,) * 3), Person("ben", (300,) * 3)]
    floor = Floor(workload(people, stages, waits=[Wait("cut", "quilt")], machines=machines))
    return floor, [{"cut": 0, "quilt": 1, "seam": 500}[stage.id] for stage in floor.stages]


def test_a_pressing_stage_breaks_in_and_the_other_is_taken_up_again_that_day():
    floor, keys = hand_over()
    assert stints(floor, dispatch_restlessly(floor, keys))[:4] == [
        ("seam", "ann", 0, 60),
        ("cut", "ben", 0, 60),
        ("quilt", "ann", 60, 90),
        ("seam", "ann", 150, 150),
    ]


def test_the_dispatcher_that_rests_lets_the_stage_wait():
    floor, keys = hand_over()
    assert ("quilt", "ann", 240, 60) in stints(floor, dispatch(floor, keys))


def test_a_stage_that_presses_hardly_more_does_not_break_in():
    floor, keys = hand_over()
    run = dispatch_restlessly(floor, keys, breaks_in=499)
    assert ("seam", "ann", 0, 240) in stints(floor, run)
    run = dispatch_restlessly(floor, keys, breaks_in=498)
    assert ("seam", "ann", 0, 60) in stints(floor, run)


def test_a_stint_not_yet_worth_sitting_down_for_is_not_broken_off():
    floor, keys = hand_over(least=120)
    assert ("seam", "ann", 0, 60) not in stints(floor, dispatch_restlessly(floor, keys))


def test_what_is_laid_down_for_another_stays_on_its_machine():
    floor, keys = hand_over(machine="frame")
    run = dispatch_restlessly(floor, keys)
    assert check_timetable(floor.workload, floor.timetable(run.stints, run.done, run.keys)) == ()


def test_the_most_pressing_stage_goes_to_somebody_who_can_finish_it_today():
    """Ann leaves after an hour; Ben, who stays, takes the long one though she comes first by name."""
    people = [Person("ann", (60, 300)), Person("ben", (300, 300))]
    stages = [Stage("long", "A", "sew", 200, ("ann", "ben")), Stage("short", "B", "sew", 50, ("ann", "ben"))]
    floor = Floor(workload(people, stages))
    run = dispatch_restlessly(floor, [0, 1])
    assert stints(floor, run) == [("short", "ann", 0, 50), ("long", "ben", 0, 200)]


@given(workloads(), st.randoms(use_true_random=False), st.sampled_from((0, 3)))
@settings(max_examples=80)
def test_whatever_presses_the_timetable_can_be_worked_as_written(work, rng, breaks_in):
    floor = Floor(work)
    keys = rng.sample(range(len(floor.stages)), len(floor.stages))
    run = dispatch_restlessly(floor, keys, breaks_in=breaks_in)
    assert check_timetable(work, floor.timetable(run.stints, run.done, run.keys)) == ()


# -- a plan that is too late is given up -------------------------------------------------------------


@given(workloads(), st.randoms(use_true_random=False), st.integers(0, 30))
@settings(max_examples=60)
def test_a_plan_is_given_up_only_when_it_is_later_in_all_than_allowed(work, rng, most):
    floor = Floor(work)
    days = floor.days_by_order({due.order: due.day for due in work.dues})
    keys = rng.sample(range(len(floor.stages)), len(floor.stages))
    for make in (dispatch, dispatch_restlessly):
        whole = make(floor, keys)
        finish = floor.timetable(whole.stints, whole.done, keys).finish
        late = sum(
            max(0, finish[o] - day) for o, day in zip(floor.orders, days, strict=True) if day is not None
        )
        tried = make(floor, keys, Patience(floor, days, most))
        assert (tried.done == whole.done) or late > most
        if late <= most:
            assert tried.stints == whole.stints
