"""What moved between two timetables, in minutes that somebody would find elsewhere."""

import pytest
from hypothesis import given, settings

from planner.problems import BadInput, Limit
from planner.schedule import Moves, Stint, Timetable, make_timetable, stability
from tests.planner.schedule.workshop import workloads


def table(*stints):
    return Timetable(tuple(Stint(*stint) for stint in stints), {}, {})


OLD = table(("A", "ann", 0, 540, 300), ("A", "ann", 1, 540, 100), ("B", "ann", 1, 640, 200))


@given(workloads())
@settings(max_examples=10)
def test_nothing_moves_between_a_timetable_and_itself(work):
    made = make_timetable(work, limit=Limit(effort=2))
    assert stability(made, made) == Moves((), 0)


def test_minutes_on_another_day_have_moved():
    new = table(("A", "ann", 0, 540, 300), ("B", "ann", 1, 540, 200), ("A", "ann", 2, 540, 100))
    assert stability(OLD, new) == Moves(("A",), 100)


def test_minutes_with_another_person_have_moved():
    new = table(("A", "ann", 0, 540, 300), ("A", "ben", 1, 540, 100), ("B", "ann", 1, 640, 200))
    assert stability(OLD, new) == Moves(("A",), 100)


def test_another_time_of_the_same_day_is_no_move():
    new = table(("A", "ann", 0, 540, 300), ("B", "ann", 1, 540, 200), ("A", "ann", 1, 740, 100))
    assert stability(OLD, new) == Moves((), 0)


def test_what_is_done_by_now_has_not_moved():
    assert stability(OLD, table(("B", "ann", 1, 540, 200))) == Moves((), 0)


def test_only_the_days_asked_about_are_compared():
    new = table(("A", "ann", 0, 540, 300), ("A", "ann", 3, 540, 100), ("B", "ann", 4, 640, 200))
    assert stability(OLD, new, days=1) == Moves((), 0)
    assert stability(OLD, new, days=2) == Moves(("A", "B"), 300)


def test_at_least_a_day_is_compared():
    with pytest.raises(BadInput, match=r"^days"):
        stability(OLD, OLD, days=0)
