"""Latest times kept for ever other days asked are those reckoned afresh."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from planner.schedule import Person, Stage, Wait
from planner.schedule.floor import DAY, Floor
from planner.schedule.windows import Tails, almanacs, tails
from tests.planner.schedule.workshop import workload, workloads


@given(workloads(), st.lists(st.lists(st.integers(-3, 60), min_size=4, max_size=4), min_size=1, max_size=5))
@settings(max_examples=60)
def test_kept_latest_times_are_those_reckoned_afresh(work, asked):
    pinned = replace(work.stages[0], pin=5, ready=0)
    floor = Floor(replace(work, stages=(pinned, *work.stages[1:])))
    books, kept = almanacs(floor), Tails(floor)
    for days in asked:
        dues = [None if day < 0 else day for day in days[: len(floor.orders)]]
        assert kept.ends(dues) == tails(floor, books, dues)


def test_an_order_that_another_waits_for_presses_by_the_days_of_both():
    jobs = [Stage(o, o, "sew", 100, ("ann",)) for o in "AB"]
    floor = Floor(workload([Person("ann", (100,) * 9)], jobs, waits=[Wait("A", "B", 1)]))
    kept = Tails(floor)
    for due, latest in ((6, 5), (3, 2), (6, 5)):
        assert kept.ends([8, due])[0] // DAY == latest
