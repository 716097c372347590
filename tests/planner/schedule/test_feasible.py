"""Days that can be kept, and days that cannot: compared with exact rules for one person.

One person, work that may be laid down, release and due days: the earliest due day first keeps all
days if any plan does (J. R. Jackson 1955; with release days W. A. Horn, Naval Res. Logist. Q. 21,
1974), and that is so when between any two days no more is asked than there are minutes.
"""

from random import Random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from planner.problems import Limit, Undecided
from planner.schedule import Due, Person, Proof, Stage, Timetable, check_proof, check_timetable, feasible
from planner.schedule.bounds import Bounds
from planner.schedule.floor import Floor
from planner.schedule.flow import pressing, short_set
from planner.schedule.windows import tails
from tests.planner.schedule.workshop import SHORT, chain, workload, workloads


def random_jobs(rng, days):
    jobs = []
    for _ in range(rng.randint(1, 6)):
        ready = rng.randrange(days - 1)
        jobs.append((rng.randint(1, 12), ready, rng.randint(ready, days - 1)))
    return jobs


def earliest_due_day_first_keeps_all(jobs, minutes):
    rest = [job[0] for job in jobs]
    for day, left in enumerate(minutes):
        for j in sorted(range(len(jobs)), key=lambda j: jobs[j][2]):
            if jobs[j][1] <= day:
                if rest[j] and day > jobs[j][2]:
                    return False
                done = min(rest[j], left)
                rest[j], left = rest[j] - done, left - done
    return not any(rest)


def no_days_are_overfull(jobs, minutes):
    return all(
        sum(effort for effort, ready, due in jobs if first <= ready and due <= last)
        <= sum(minutes[first : last + 1])
        for first in range(len(minutes))
        for last in range(first, len(minutes))
    )


def as_workload(jobs, minutes):
    stages = [
        Stage(str(j), str(j), "sew", effort, ("ann",), ready=ready)
        for j, (effort, ready, _) in enumerate(jobs)
    ]
    return workload([Person("ann", tuple(minutes))], stages), {
        str(j): due for j, (_, _, due) in enumerate(jobs)
    }


def flow_fits(work, due):
    floor = Floor(work)
    bounds = Bounds(floor)
    if bounds._chain(floor.days_by_order(due)) is not None:
        return False
    ends = tails(floor, bounds.books, floor.days_by_order(due))
    return short_set(floor, pressing(floor, bounds.books, bounds.heads, ends)) is None


def test_one_person_gets_a_timetable_exactly_when_the_earliest_due_day_first_keeps_all():
    kept = 0
    for seed in range(400):
        rng = Random(seed)
        minutes = [rng.randint(0, 9) for _ in range(rng.randint(3, 12))]
        jobs = random_jobs(rng, len(minutes))
        work, due = as_workload(jobs, minutes)
        answer = feasible(work, due, limit=SHORT)
        can = earliest_due_day_first_keeps_all(jobs, minutes)
        assert (
            can
            == no_days_are_overfull(jobs, minutes)
            == flow_fits(work, due)
            == isinstance(answer, Timetable)
        ), seed
        if can:
            assert check_timetable(work, answer) == ()
            assert all(answer.finish[order] <= day for order, day in due.items())
        else:
            assert isinstance(answer, Proof)
            assert check_proof(work, answer) == ()
            assert all(due[order] == day for order, day in answer.orders.items())
        kept += can
    assert 60 <= kept <= 340


def most_by_linear_program(jobs, people):
    """Return the most minutes that fit: jobs (effort, ready, due, who) on several people's days,
    no more on a job in a day than one person has."""
    columns = [
        (j, p, day)
        for j, (_, ready, due, who) in enumerate(jobs)
        for p in who
        for day in range(ready, due + 1)
    ]
    if not columns:
        return 0
    days = range(len(people[0]))
    rows = [([c[0] == j for c in columns], job[0]) for j, job in enumerate(jobs)]
    rows += [
        ([c[1:] == (p, d) for c in columns], minutes[d]) for p, minutes in enumerate(people) for d in days
    ]
    rows += [
        ([(c[0], c[2]) == (j, d) for c in columns], max(people[p][d] for p in job[3]))
        for j, job in enumerate(jobs)
        for d in days
    ]
    matrix, limits = np.array([row for row, _ in rows], dtype=float), [limit for _, limit in rows]
    found = linprog(-np.ones(len(columns)), A_ub=matrix, b_ub=limits, method="highs")
    return round(-found.fun)


def test_several_people_are_ruled_out_exactly_when_a_linear_program_finds_too_few_minutes():
    ruled_out = 0
    for seed in range(80):
        rng = Random(seed)
        days = rng.randint(2, 6)
        people = [[rng.randint(0, 8) for _ in range(days)] for _ in range(rng.randint(2, 3))]
        jobs = []
        for effort, ready, due in random_jobs(rng, days):
            who = sorted(rng.sample(range(len(people)), rng.randint(1, len(people))))
            if effort <= sum(max(people[p][day] for p in who) for day in range(ready, due + 1)):
                jobs.append((effort, ready, due, who))
        stages = [
            Stage(str(j), str(j), "sew", effort, tuple("abc"[p] for p in who), ready=ready)
            for j, (effort, ready, _, who) in enumerate(jobs)
        ]
        work = workload([Person("abc"[p], tuple(minutes)) for p, minutes in enumerate(people)], stages)
        proof = Bounds(Floor(work)).proof([due for _, _, due, _ in jobs])
        lacking = sum(job[0] for job in jobs) - most_by_linear_program(jobs, people)
        assert (lacking > 0) == (proof is not None), seed
        if proof is not None:
            assert proof.demand - proof.capacity <= lacking
            assert check_proof(work, proof) == ()
        ruled_out += proof is not None
    assert 10 <= ruled_out <= 70


@given(workloads(), st.lists(st.integers(0, 25), min_size=4, max_size=4))
@settings(max_examples=80)
def test_whatever_is_answered_can_be_checked(work, days):
    due = dict(zip("ABCD", days, strict=True))
    answer = feasible(work, due, limit=Limit(effort=15))
    if isinstance(answer, Timetable):
        assert check_timetable(work, answer) == ()
        assert all(end <= due[order] for order, end in answer.finish.items())
    elif isinstance(answer, Proof):
        assert check_proof(work, answer) == ()
        assert all(due[order] == day for order, day in answer.orders.items())
        assert answer.words(work)
    else:
        assert isinstance(answer, Undecided)


def test_an_order_not_asked_about_keeps_its_own_day():
    jobs = [Stage(j, j, "sew", 300, ("ann",)) for j in "AB"]
    work = workload([Person("ann", (300,) * 3)], jobs, dues=[Due("A", 0)])
    assert isinstance(feasible(work, {"B": 0}, limit=SHORT), Proof)
    assert isinstance(feasible(work, {"A": 1, "B": 0}, limit=SHORT), Timetable)


def test_what_is_pencilled_in_asks_for_nothing_unless_it_is_named():
    jobs = [Stage(j, j, "sew", 300, ("ann",)) for j in "AB"]
    work = workload([Person("ann", (300,) * 3)], jobs, dues=[Due("A", 0, firm=False), Due("B", 0)])
    assert feasible(work, {}, limit=SHORT).finish["B"] == 0
    assert isinstance(feasible(work, {"A": 0}, limit=SHORT), Proof)


def test_a_search_that_fails_is_told_as_undecided_and_never_as_impossible():
    """Two stints of at least 60 minutes do not fit two days of 90, and sums of minutes cannot see it."""
    stages, waits = chain("A", (60, 60, 60), least=60)
    work = workload([Person("ann", (90, 90, 0, 0))], stages, waits=waits)
    answer = feasible(work, {"A": 1}, limit=Limit(effort=20))
    assert isinstance(answer, Undecided)
    assert "not ruled out" in answer.problems[0].what
    assert answer.problems[0].where == ("A",)


@pytest.mark.parametrize("minutes", [(90, 0, 0, 0), (0, 0, 0, 0)])
def test_a_chain_that_is_too_long_by_itself_is_said_so(minutes):
    stages, waits = chain("A", (60, 60))
    answer = feasible(workload([Person("ann", minutes)], stages, waits=waits), {"A": 2}, limit=SHORT)
    assert isinstance(answer, Proof)
    assert answer.kind == "chain"
