"""A sum that shows why a day cannot be holds as few quilts as any could; where that is more than anyone
reads, no twelve of them would show it."""

from itertools import combinations

import numpy as np
import pytest

from planner.schedule import Person, Stage, check_proof, with_order
from planner.schedule.bounds import Bounds
from planner.schedule.floor import DAY, Floor
from planner.schedule.windows import almanacs, heads, tails
from tests.bench.planted import planted
from tests.planner.schedule.workshop import workload

TWELVE = 12


def asked_too_early(orders, seed):
    """Return a shop of one person with an order more, the days asked, and why they cannot be kept."""
    case = planted(orders, 1, family="tight", seed=seed)
    joined = with_order(case.workload, case.new)
    floor = Floor(joined)
    dues = floor.days_by_order({due.order: due.day for due in case.workload.dues})
    mine = floor.orders.index(case.new.due.order)
    first = Bounds(floor).first_day(mine, dues)
    dues[mine] = first.day - 1
    return joined, dues, first.proof


def orders_of(work, proof):
    return {stage.order for stage in work.stages if stage.id in set(proof.stages)}


def most_lacking(work, asked, most):
    """Return by how many minutes the work of any `most` orders exceeds the time of the one person, at most.

    Each stretch between two instants against the work that must lie inside it, order by order (the demand
    bound; for one person it is exact: W. A. Horn, Naval Res. Logist. Q. 21, 1974). Of the orders inside the
    largest ask for the most, so no others need be tried.
    """
    floor = Floor(work)
    books, (person,) = almanacs(floor), work.people
    days_before = np.concatenate([[0], np.cumsum(person.minutes)])

    def worked_until(instant):
        day, minute = divmod(instant, DAY)
        return int(days_before[day]) + min(max(0, minute - person.opening(day)), person.minutes[day])

    ends = tails(floor, books, asked)
    held = [s for s, end in enumerate(ends) if end is not None and floor.effort[s]]
    start = np.array([heads(floor, books).start[s] for s in held])
    end, effort = np.array([ends[s] for s in held]), np.array([floor.effort[s] for s in held])
    order, worst = np.array([floor.order_of[s] for s in held]), -(10**9)
    until = {instant: worked_until(instant) for instant in {*start.tolist(), *end.tolist()}}
    for a in np.unique(start).tolist():
        later = start >= a
        for b in np.unique(end[later]).tolist():
            inside = later & (end <= b)
            there = until[b] - until[a]
            if b > a and int(effort[inside].sum()) > there:
                each = np.sort(np.bincount(order[inside], weights=effort[inside]))
                worst = max(worst, int(each[-most:].sum()) - there)
    return worst


@pytest.mark.parametrize(("orders", "seed", "held"), [(30, 1, 18), (30, 11, 13), (60, 4, 14)])
def test_where_a_sum_holds_more_than_twelve_quilts_no_twelve_would_show_it(orders, seed, held):
    """Of 72 planted shops of one person 13 need more than twelve, 41 at most; three of them are here."""
    work, asked, proof = asked_too_early(orders, seed)
    assert check_proof(work, proof) == ()
    assert most_lacking(work, asked, len(asked)) > 0
    assert most_lacking(work, asked, TWELVE) <= 0
    assert len(orders_of(work, proof)) == held
    assert f"the sum of all {held} to see it: the 12 largest of them need" in proof.words(work)
    assert "which would fit" in proof.words(work)


def crowd(minutes, *, days=10):
    stages = [Stage(f"{n:02}", f"{n:02}", "sew", each, ("ann",)) for n, each in enumerate(minutes)]
    return workload([Person("ann", (100,) * days)], stages)


def test_the_fewest_quilts_that_are_short_are_found_as_by_trying_all():
    """Some are due at the start and some later: the days that lack the most need not hold the fewest."""
    minutes, last = (30, 30, 30, 30, 30, 60, 400, 300, 350, 20), (1, 1, 1, 1, 1, 1, 9, 9, 9, 9)
    work = crowd(minutes)
    floor = Floor(work)
    proof = Bounds(floor).proof(floor.days_by_order({f"{n:02}": day for n, day in enumerate(last)}))
    short = [
        set(chosen)
        for count in range(1, len(minutes) + 1)
        for chosen in combinations(range(len(minutes)), count)
        if any(sum(minutes[n] for n in chosen if last[n] <= day) > 100 * (day + 1) for day in (1, 9))
    ]
    assert check_proof(work, proof) == ()
    assert len(orders_of(work, proof)) == min(map(len, short))


def test_a_shorter_stretch_with_fewer_quilts_goes_before_one_that_lacks_more():
    """Twenty small ones lack 800 minutes in ten days; two of the first two days lack 10."""
    work = crowd((105, 105, *[80] * 20))
    floor = Floor(work)
    asked = {"00": 1, "01": 1} | {f"{n:02}": 9 for n in range(2, 22)}
    proof = Bounds(floor).proof(floor.days_by_order(asked))
    assert orders_of(work, proof) == {"00", "01"}
    assert (proof.demand, proof.capacity, proof.last) == (210, 200, 1)
    assert check_proof(work, proof) == ()
    assert "sum of all" not in proof.words(work)
