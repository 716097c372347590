"""The floor seen backwards: as late as the days asked allow, and no later."""

from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from planner.schedule import Due, Machine, Person, Stage, Wait
from planner.schedule.dispatch import dispatch
from planner.schedule.floor import DAY, Floor
from planner.schedule.mirror import EARLIER, Mirror
from planner.schedule.windows import almanacs, tails
from tests.planner.schedule.workshop import chain, workload, workloads


def latest_starts(work, days):
    """Return when each stage starts at the latest, as (day, minute), by stage."""
    floor = Floor(work)
    run = dispatch(floor, list(range(len(floor.stages))))
    starts = Mirror(floor).latest(floor.days_by_order(days), run)
    return {stage.id: divmod(start, DAY) for stage, start in zip(floor.stages, starts, strict=True)}


def test_the_last_stage_ends_when_the_due_day_does():
    stages, waits = chain("A", (100, 50))
    work = workload([Person("ann", (300,) * 10, (540,) * 10)], stages, waits=waits)
    assert latest_starts(work, {"A": 6}) == {"A1": (6, 790), "A0": (6, 690)}


def test_a_wait_runs_the_other_way():
    stages, _ = chain("A", (100, 50))
    work = workload([Person("ann", (300,) * 10)], stages, waits=[Wait("A0", "A1", 2)])
    assert latest_starts(work, {"A": 6}) == {"A1": (6, 250), "A0": (4, 200)}


def test_a_day_off_is_stepped_over():
    work = workload([Person("ann", (300, 300, 0, 300))], [Stage("A", "A", "sew", 400, ("ann",))])
    assert latest_starts(work, {"A": 3}) == {"A": (1, 200)}


def test_two_orders_due_on_one_day_share_the_days_before_it():
    jobs = [Stage(o, o, "sew", 300, ("ann",)) for o in "AB"]
    starts = latest_starts(workload([Person("ann", (300,) * 9)], jobs), {"A": 5, "B": 5})
    assert sorted(starts.values()) == [(4, 0), (5, 0)]


def test_what_cannot_be_done_by_its_day_would_have_begun_before_today():
    work = workload([Person("ann", (300,) * 9)], [Stage("A", "A", "sew", 900, ("ann",))])
    assert latest_starts(work, {"A": 1})["A"][0] == -1


def test_a_frame_is_closed_on_the_same_days_seen_from_either_end():
    frame = Machine("frame", closed=frozenset({4}))
    work = workload(
        [Person("ann", (300,) * 7)],
        [Stage("A", "A", "quilt", 400, ("ann",), machine="frame")],
        machines=[frame],
    )
    assert latest_starts(work, {"A": 5})["A"] == (3, 200)


def test_a_pinned_stage_starts_on_its_day():
    work = workload([Person("ann", (300,) * 9)], [Stage("A", "A", "visit", 60, ("ann",), pin=3)])
    assert latest_starts(work, {"A": 8})["A"] == (3, 240)


@given(workloads())
@settings(max_examples=40)
def test_the_hours_of_a_mirrored_day_are_those_of_the_day_itself(work):
    floor = Floor(work)
    mirror = Mirror(floor)
    assert mirror.days == floor.days + EARLIER
    for p in range(len(floor.people)):
        worked = [close - start for start, close in zip(floor.opens[p], floor.closes[p], strict=True)]
        seen = [close - start for start, close in zip(mirror.opens[p], mirror.closes[p], strict=True)]
        assert seen[: floor.days] == worked[::-1]


@given(workloads(most_orders=1), st.integers(20, 60))
@settings(max_examples=60)
def test_no_stage_starts_later_than_it_could_with_nothing_else_on_the_table(work, day):
    floor = Floor(work)
    days = floor.days_by_order({due.order: day for due in work.dues})
    run = dispatch(floor, Random(day).sample(range(len(floor.stages)), len(floor.stages)))
    books = almanacs(floor)
    ends = tails(floor, books, days)
    for s, start in enumerate(Mirror(floor).latest(days, run)):
        assert start <= books[floor.kind_of[s]].start(ends[s], floor.effort[s])


def test_a_due_for_nothing_is_left_alone():
    work = workload([Person("ann", (300,) * 9)], [Stage("A", "A", "sew", 60, ("ann",))], dues=[Due("Z", 3)])
    assert latest_starts(work, {})["A"] == (8, 240)
