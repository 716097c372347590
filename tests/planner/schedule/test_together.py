"""A load of washing or a batch at the press: one stage for several quilts."""

from dataclasses import replace

import pytest

from planner.problems import BadInput
from planner.schedule import (
    Due,
    Machine,
    Person,
    Proof,
    Stage,
    Wait,
    check_proof,
    check_timetable,
    feasible,
    make_timetable,
    together,
)
from tests.planner.schedule.workshop import SHORT, workload

ANN = Person("ann", (300,) * 9)
BEN = Person("ben", (300,) * 9)


def two_washes(**more):
    """Return two quilts that are logged, washed, and cut the day after."""
    stages, waits = [], []
    for order in "AB":
        stages += [
            Stage(f"{order}{kind}", order, kind, 60, ("ann", "ben")) for kind in ("log", "wash", "cut")
        ]
        waits += [Wait(f"{order}log", f"{order}wash"), Wait(f"{order}wash", f"{order}cut", 1)]
    return workload([ANN, BEN], stages, waits=waits, dues=[Due("A", 3), Due("B", 3)], **more)


def starts(made):
    return {stint.stage: (stint.day, stint.start) for stint in reversed(made.stints)}


def test_every_quilt_waits_for_the_load_and_the_load_for_every_quilt():
    work = together(two_washes(), ("Awash", "Bwash"), name="load", minutes=70)
    made = make_timetable(work, limit=SHORT)
    assert check_timetable(work, made) == ()
    at = starts(made)
    assert at["load"] >= max((0, 60), at["Alog"], at["Blog"])
    assert at["Acut"][0] == at["Bcut"][0] == at["load"][0] + 1
    assert sum(stint.minutes for stint in made.stints if stint.stage == "load") == 70


def test_without_minutes_given_the_work_of_all_is_added_up():
    work = together(two_washes(), ("Awash", "Bwash"), name="load")
    assert next(stage.minutes for stage in work.stages if stage.id == "load") == 120


def test_a_shirt_that_comes_late_holds_up_every_quilt_in_its_load():
    late = two_washes()
    late = replace(late, stages=tuple(replace(s, ready=4) if s.id == "Blog" else s for s in late.stages))
    apart = feasible(late, {"A": 3, "B": 5}, limit=SHORT)
    assert not isinstance(apart, Proof)
    work = together(late, ("Awash", "Bwash"), name="load")
    proof = feasible(work, {"A": 3, "B": 5}, limit=SHORT)
    assert isinstance(proof, Proof)
    assert check_proof(work, proof) == ()


def test_only_who_may_do_all_may_do_the_batch():
    work = two_washes()
    hers = replace(
        work, stages=tuple(replace(s, people=("ben",)) if s.id == "Bwash" else s for s in work.stages)
    )
    joined = together(hers, ("Awash", "Bwash"), name="load")
    assert next(stage.people for stage in joined.stages if stage.id == "load") == ("ben",)


def apart(work, name, **change):
    return replace(work, stages=tuple(replace(s, **change) if s.id == name else s for s in work.stages))


REFUSED = {
    "nobody may do all": lambda: (
        apart(apart(two_washes(), "Awash", people=("ann",)), "Bwash", people=("ben",)),
        ("Awash", "Bwash"),
    ),
    "two or more stages": lambda: (two_washes(), ("Awash", "Zwash")),
    "each once": lambda: (two_washes(), ("Awash",)),
    "the same machine": lambda: (
        apart(two_washes(machines=[Machine("tub")]), "Awash", machine="tub"),
        ("Awash", "Bwash"),
    ),
    "different days": lambda: (
        apart(apart(two_washes(), "Awash", pin=1), "Bwash", pin=2),
        ("Awash", "Bwash"),
    ),
    "Awash waits for Alog": lambda: (two_washes(), ("Alog", "Awash")),
}


@pytest.mark.parametrize("words", REFUSED)
def test_what_cannot_be_done_together_is_refused(words):
    work, stages = REFUSED[words]()
    with pytest.raises(BadInput, match=words):
        together(work, stages, name="load")


def test_a_batch_that_would_wait_for_itself_through_others_is_refused():
    work = two_washes()
    work = replace(work, waits=(*work.waits, Wait("Acut", "Blog")))
    with pytest.raises(BadInput, match="in a circle"):
        together(work, ("Alog", "Bcut"), name="load")
