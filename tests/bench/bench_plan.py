"""Figures: the full plan of an overloaded shop, the first way of a table, chances, and memory, at 60 orders.

Run: python tests/bench/bench_plan.py [seconds of the long run, 60] [seeds, 1]. Seconds are of one
processor's work. A plan of five seconds and one of sixty are read off the same search.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from random import Random
from resource import RUSAGE_SELF, getrusage
from time import process_time

from planner.problems import Limit
from planner.schedule import NewOrder, Workload, make_timetable, options, risk, with_overtime
from planner.schedule.timetable import Timetable
from tests.bench.planted import planted

ORDERS = 60
SOON = 5.0


def overloaded(people: int, seed: int) -> Workload:
    """Return a shop whose dues lie at three quarters of what a plan reaches, with weights of 1 to 3."""
    rng = Random(seed)
    work = planted(ORDERS, people, family="mid", seed=seed).workload
    dues = tuple(replace(due, day=due.day * 3 // 4, weight=rng.randint(1, 3)) for due in work.dues)
    return replace(work, dues=dues)


def weighted_days(work: Workload, made: Timetable) -> int:
    """Return the weighted days by which orders are late."""
    return sum(made.late[due.order] * due.weight for due in work.dues)


def full_plan(people: int, seed: int, *, seconds: float) -> str:
    """Return how late the first plan is, the one after five seconds and that of the whole time."""
    work = overloaded(people, seed)
    begun = process_time()
    heard: list[tuple[float, int]] = []

    def watch(made: Timetable) -> bool:
        heard.append((process_time() - begun, weighted_days(work, made)))
        return process_time() - begun < seconds

    make_timetable(work, limit=Limit(seconds=4 * seconds, watch=watch), seed=seed)
    heard = [entry for entry in heard if entry[0] <= seconds]
    soon = [late for at, late in heard if at <= SOON][-1]
    return (
        f"{ORDERS} x {people}, seed {seed}: first plan after {heard[0][0] * 1000:.0f} ms,"
        f" {heard[0][1]} weighted days late; after {SOON:.0f} s {soon};"
        f" after {heard[-1][0]:.0f} of {seconds:.0f} s {heard[-1][1]}"
        f" ({soon / max(1, heard[-1][1]):.2f} x)"
    )


def table(people: int, seed: int) -> str:
    """Return when the first and when all of ten ways are told."""
    case = planted(ORDERS, people, family="tight", seed=seed)
    ways: dict[str, tuple[Workload, NewOrder]] = {}
    for hours in range(5):
        extra = {("maker", day): hours * 12 for day in range(case.workload.days)}
        more = with_overtime(case.workload, extra)
        ways[f"{hours} h a week more"] = (more, case.new)
        ways[f"{hours} h a week more, next week"] = (
            more,
            replace(case.new, stages=tuple(replace(s, ready=s.ready + 7) for s in case.new.stages)),
        )
    begun = process_time()
    at = [process_time() - begun for _ in options(ways, limit=Limit(effort=100), seed=seed)]
    return f"{ORDERS} x {people}, seed {seed}: first way after {at[0]:.2f} s, all ten after {at[-1]:.2f} s"


def chances(people: int, seed: int) -> str:
    """Return how long 300 samples take."""
    work = planted(ORDERS, people, family="mid", seed=seed).workload
    made = make_timetable(work, limit=Limit(effort=3))
    begun = process_time()
    risk(work, made, bias=0.12, samples=300, seed=seed)
    return f"{ORDERS} x {people}, seed {seed}: 300 samples {process_time() - begun:.2f} s"


def main(seconds: float = 60, seeds: int = 1) -> None:
    """Print the figures."""
    for people in (1, 2, 3):
        print(table(people, 0), flush=True)
        print(chances(people, 0), flush=True)
    for seed in range(seeds):
        print(full_plan(2, seed, seconds=seconds), flush=True)
    print(f"most memory {getrusage(RUSAGE_SELF).ru_maxrss // 1024} MB")


if __name__ == "__main__":
    main(*(int(each) for each in sys.argv[1:]))
