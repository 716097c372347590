"""Proofs: said in plain words, added up again, and refused when a figure is bent."""

from dataclasses import replace
from datetime import date
from itertools import product

import pytest

from planner.problems import BadInput
from planner.schedule import Machine, Person, Proof, Stage, Timetable, check_proof, feasible
from tests.planner.schedule.workshop import SHORT, chain, workload


def ruled_out(work, due):
    answer = feasible(work, due, limit=SHORT)
    assert isinstance(answer, Proof)
    assert check_proof(work, answer) == ()
    return answer


def crowd(minutes=(300,) * 10):
    """Return three quilts of 500 minutes for one person."""
    return workload([Person("ann", minutes)], [Stage(o, o, "sew", 500, ("ann",)) for o in "ABC"])


def two_days_of_help():
    """Return a quilt that only Ann may sew, and one that Ben may help with on the first day."""
    ann, ben = Person("ann", (100,) * 4), Person("ben", (100, 0, 0, 0))
    stages = [
        Stage("A", "A", "sew", 300, ("ann",)),
        *(Stage(f"B{n}", "B", "log", 110, ("ann", "ben")) for n in range(2)),
    ]
    return workload([ann, ben], stages), {"A": 3, "B": 3}


def waits_too_long():
    stages, waits = chain("A", (100, 0), wait=7)
    return workload([Person("ann", (300,) * 20)], stages, waits=waits), {"A": 6}


def one_frame():
    people = [Person("ann", (100,) * 3), Person("ben", (100,) * 3)]
    stages = [Stage(o, o, "quilt", 80, ("ann", "ben"), machine="frame") for o in "ABCD"]
    return workload(people, stages, machines=[Machine("frame")]), dict.fromkeys("ABCD", 2)


def test_the_words_of_a_sum_name_dates_hours_and_the_shortage():
    proof = ruled_out(crowd((300, 300, 300, 300, 200) + (0,) * 5), {"A": 4, "B": 4, "C": 4})
    assert (proof.kind, proof.demand, proof.capacity, proof.first, proof.last) == (
        "capacity",
        1500,
        1400,
        0,
        4,
    )
    work = crowd((300, 300, 300, 300, 200) + (0,) * 5)
    assert proof.words(work) == (
        "Between Mon 26 Apr and Fri 30 Apr, ann has 1,400 minutes (about 23.3 h) of work time."
        " These 3 orders need 1,500 minutes (25 h) inside those days:"
        " A by Fri 30 Apr, B by Fri 30 Apr and C by Fri 30 Apr."
        " 100 minutes (about 1.7 h) are missing, in whatever order the work is done."
        " Without at least that much extra time it cannot be done."
    )


def test_the_words_of_a_chain_name_the_waits_and_the_day_that_is_too_early():
    stages, waits = chain("Lily", (400, 400), wait=3)
    work = workload([Person("ann", (300,) * 20)], stages, waits=waits, origin=date(2027, 5, 3))
    proof = ruled_out(work, {"Lily": 4})
    assert proof.kind == "chain"
    assert proof.words(work) == (
        "Even with nothing else on the table, Lily needs 800 minutes (about 13.3 h) of work"
        " one after the other and 3 days of waiting in between. Starting Mon 3 May,"
        " in the working hours entered, at most 700 minutes (about 11.7 h) of that can be done by Fri 7 May,"
        " so that day is too early."
    )


def test_waits_alone_can_be_too_long():
    work, due = waits_too_long()
    proof = ruled_out(work, due)
    assert (proof.kind, proof.demand, proof.capacity) == ("chain", 100, 100)
    assert isinstance(feasible(work, {"A": 7}, limit=SHORT), Timetable)


def test_a_day_that_is_over_is_said_to_be_over():
    proof = ruled_out(crowd(), {"A": -2})
    assert proof.words(crowd()) == "A was to be ready by Sat 24 Apr, and that day is over."


def test_help_that_not_everyone_may_give_is_counted_only_where_it_can_be_used():
    work, due = two_days_of_help()
    proof = ruled_out(work, due)
    assert (proof.demand, proof.capacity) == (520, 500)


def test_a_frame_is_no_faster_for_two_people():
    work, due = one_frame()
    proof = ruled_out(work, due)
    assert (proof.kind, proof.demand, proof.capacity) == ("cut", 320, 300)
    assert "At most 300 minutes (5 h) of them can go into this work" in proof.words(work)


CASES = {
    "capacity": (crowd(), {"A": 3, "B": 3, "C": 3}),
    "chain": waits_too_long(),
    "cut": one_frame(),
}
BENT = {
    "demand": lambda proof: {"demand": proof.demand + 1},
    "capacity": lambda proof: {"capacity": proof.capacity - 1},
    "a later day asked": lambda proof: {"orders": {order: day + 5 for order, day in proof.orders.items()}},
    "no day asked": lambda proof: {"orders": {}},
    "stages": lambda proof: {"stages": proof.stages[:-1]},
    "a stranger": lambda proof: {"stages": (*proof.stages, "Z")},
    "a stage twice": lambda proof: {"stages": (*proof.stages, proof.stages[-1])},
    "last": lambda proof: {"last": proof.last + 1},
    "people": lambda proof: {"people": ()},
}


# The days of a cut only say where to look: more of them bring no more room, and the proof still holds.
@pytest.mark.parametrize(("kind", "bend"), [pair for pair in product(CASES, BENT) if pair != ("cut", "last")])
def test_a_bent_proof_does_not_add_up(kind, bend):
    work, due = CASES[kind]
    proof = ruled_out(work, due)
    assert proof.kind == kind
    assert check_proof(work, replace(proof, **BENT[bend](proof))) != ()


def test_a_proof_of_fewer_minutes_than_there_are_cannot_be_built():
    with pytest.raises(BadInput, match=r"^demand"):
        Proof("capacity", 0, 1, ("ann",), ("A",), 100, 100)


def test_a_proof_does_not_hold_for_a_workload_with_more_hours():
    proof = ruled_out(crowd(), {"A": 3, "B": 3, "C": 3})
    assert check_proof(crowd((400,) * 10), proof) != ()
