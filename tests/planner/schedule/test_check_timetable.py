"""A sound timetable passes; each way of breaking it is caught."""

from dataclasses import replace

import pytest

from planner.schedule import Due, Machine, Person, Stage, Stint, Timetable, Wait, check_timetable
from tests.planner.schedule.workshop import workload

# Ann works 9:00 to 14:00, day 3 off; Ben, who may only log and pack, works two hours from 10:00.
ANN = Person("ann", (300, 300, 300, 0, 300, 300), (540,) * 6)
BEN = Person("ben", (120,) * 6, (600,) * 6)
STAGES = (
    Stage("A-log", "A", "log", 60, ("ann", "ben")),
    Stage("A-sew", "A", "sew", 200, ("ann",), least=60),
    Stage("A-quilt", "A", "quilt", 330, ("ann",), machine="frame"),
    Stage("B-quilt", "B", "quilt", 200, ("ann",), machine="frame", ready=1),
    Stage("B-pack", "B", "pack", 30, ("ben",), pin=5),
    Stage("B-yes", "B", "yes", 0, ()),
)
WAITS = (Wait("A-log", "A-sew"), Wait("A-sew", "A-quilt", 1), Wait("B-quilt", "B-pack", 1))
WORK = workload(
    [ANN, BEN],
    STAGES,
    waits=WAITS,
    machines=[Machine("frame", 1, frozenset({3}))],
    dues=[Due("A", 1), Due("B", 9)],
)
STINTS = (
    Stint("A-log", "ben", 0, 600, 60),
    Stint("A-sew", "ann", 0, 660, 180),
    Stint("A-sew", "ann", 1, 540, 20),
    Stint("A-quilt", "ann", 2, 540, 300),
    Stint("A-quilt", "ann", 4, 540, 30),
    Stint("B-quilt", "ann", 4, 570, 200),
    Stint("B-pack", "ben", 5, 600, 30),
)
SOUND = Timetable(STINTS, {"A": 4, "B": 5}, {"A": 3, "B": 0})


def what(timetable, work=WORK):
    return [problem.what for problem in check_timetable(work, timetable)]


def with_stint(place, **changes):
    stints = list(STINTS)
    stints[place] = replace(stints[place], **changes)
    return replace(SOUND, stints=tuple(stints))


def test_a_sound_timetable_has_no_problems():
    assert what(SOUND) == []


def test_a_loaded_frame_may_wait_over_a_day_on_which_it_does_not_run():
    assert {stint.day for stint in STINTS if stint.stage == "A-quilt"} == {2, 4}
    assert what(SOUND) == []


BROKEN = {
    "at once": with_stint(5, start=560),
    "does not work then: A-sew, day 0": with_stint(1, start=670),
    "does not work then: A-log, day 0, minute 590": with_stint(0, start=590),
    "does not work then: A-sew, day 3": with_stint(2, day=3),
    "ben may not do A-sew": with_stint(2, person="ben", start=620),
    "gets 60 of its 200 minutes": with_stint(5, minutes=60),
    "gets 210 minutes and needs 200": with_stint(5, minutes=210),
    "A-sew is begun before A-log": with_stint(1, start=640),
    "A-quilt is begun before A-sew": with_stint(3, day=1, start=560, minutes=280),
    "B-quilt is worked on before it is ready": with_stint(5, day=0, start=540, minutes=120),
    "pinned to day 5": with_stint(6, day=4),
    "There is no stage C-log": with_stint(0, stage="C-log"),
    "nobody called cat": with_stint(0, person="cat"),
    "after the days looked at": with_stint(0, day=6),
    "A finishes on day 4": replace(SOUND, finish={"A": 3, "B": 5}),
    "B finishes on day 5": replace(SOUND, finish={"A": 4}),
    "A is not as many days late": replace(SOUND, late={"A": 0, "B": 0}),
}


@pytest.mark.parametrize("words", BROKEN)
def test_a_broken_timetable_is_caught_and_said(words):
    assert any(words in sentence for sentence in what(BROKEN[words])), what(BROKEN[words])


def test_a_frame_that_is_still_loaded_takes_no_other_quilt():
    shared = with_stint(5, day=2, start=540)
    shared = replace(
        shared,
        stints=(*shared.stints[:3], replace(STINTS[3], day=1, start=560, minutes=280), *shared.stints[4:]),
    )
    assert any("frame is still taken" in sentence for sentence in what(shared))


def test_nights_count_as_time_on_the_frame():
    between = replace(SOUND, stints=(*STINTS[:4], replace(STINTS[4], day=5), STINTS[5], replace(STINTS[6])))
    assert any("frame is still taken" in sentence for sentence in what(between))


def test_two_frames_take_two_quilts():
    two = replace(WORK, machines=(Machine("frame", 2, frozenset({3})),))
    between = Timetable(
        (*STINTS[:4], replace(STINTS[4], day=5), *STINTS[5:]), {"A": 5, "B": 5}, {"A": 4, "B": 0}
    )
    assert what(between, two) == []


def test_no_quilt_is_worked_on_where_the_frame_does_not_run():
    closed = replace(WORK, machines=(Machine("frame", 1, frozenset({4})),))
    assert sum("does not run on day 4" in sentence for sentence in what(SOUND, closed)) == 2


def test_two_people_do_not_share_a_stage_on_one_day():
    stages = [Stage("A", "A", "log", 60, ("ann", "ben"))]
    both = Timetable((Stint("A", "ann", 0, 540, 30), Stint("A", "ben", 0, 600, 30)), {"A": 0}, {"A": 0})
    assert what(both, workload([ANN, BEN], stages)) == ["ann and ben are both on A on day 0."]


def test_a_stint_shorter_than_worth_sitting_down_for_is_caught_but_not_the_last_one():
    stages = [Stage("A", "A", "sew", 130, ("ann",), least=60)]
    stints = (Stint("A", "ann", 0, 540, 110), Stint("A", "ann", 1, 540, 20))
    work = workload([ANN], stages)
    assert what(Timetable(stints, {"A": 1}, {"A": 0}), work) == []
    short = (Stint("A", "ann", 0, 540, 30), Stint("A", "ann", 1, 540, 100))
    assert what(Timetable(short, {"A": 1}, {"A": 0}), work) == [
        "A is taken up for only 30 minutes on day 0, minute 540."
    ]


def test_work_that_was_left_out_is_named_with_its_missing_minutes():
    without = replace(SOUND, stints=STINTS[:-1], finish={"A": 4, "B": 6}, late={"A": 3, "B": 0})
    (problem,) = check_timetable(WORK, without)
    assert problem.where == ("B-pack",)
    assert problem.figures == {"missing": 30}
