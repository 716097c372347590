"""Figures: how often a promise is exact in planted shops, and how long it takes.

Run: python tests/bench/bench_promise.py [seeds] [orders …]. Seconds are of one processor's work, so
that a busy machine does not change them.
"""

from __future__ import annotations

import sys
from itertools import product
from statistics import median
from time import perf_counter, process_time

from planner.problems import Limit
from planner.schedule import Promise, Proof, promise, usual_effort
from tests.bench.planted import Planted, planted

SIZES = (10, 30, 60, 200)


def measure(family: str, orders: int, people: int, *, seeds: range) -> str:
    """Return one line of figures for a size of shop."""
    times, gaps, after_planted, held, bound_past = [], [], [], [], 0
    for seed in seeds:
        case = planted(orders, people, family=family, seed=seed)
        begun = process_time()
        answer = promise(case.workload, case.new, limit=Limit(effort=usual_effort(case.workload)), seed=seed)
        times.append(process_time() - begun)
        if isinstance(answer, Promise):
            gaps.append(answer.day - answer.not_before)
            after_planted.append(answer.day - case.day)
            held.append(quilts_in(answer.proof, case) if answer.proof else 0)
            bound_past += answer.not_before > case.day
        else:
            gaps.append(999)
            after_planted.append(999)
    return (
        f"{family:5} {orders:3} x {people}: exact {sum(not gap for gap in gaps)}/{len(gaps)},"
        f" within a day {sum(gap < 2 for gap in gaps)}, gaps {sorted(gaps)},"
        f" days past the known one {sorted(after_planted)}, bounds past it {bound_past},"
        f" quilts in the reason {sorted(held)},"
        f" {median(times):.2f} s (most {max(times):.2f})"
    )


def quilts_in(proof: Proof, case: Planted) -> int:
    """Return how many quilts a reason holds."""
    stages = set(proof.stages)
    return len({stage.order for stage in (*case.workload.stages, *case.new.stages) if stage.id in stages})


def main(seeds: int = 8, *sizes: int) -> None:
    """Print the table."""
    promise(*_warm(), limit=Limit(effort=10))  # loads the solver before anything is timed
    begun = perf_counter()
    for family, orders, people in product(("mid", "tight"), sizes or SIZES, (1, 2, 3)):
        print(measure(family, orders, people, seeds=range(seeds)), flush=True)
    print(f"{perf_counter() - begun:.0f} s by the clock")


def _warm():
    case = planted(6, 1, family="mid", seed=0)
    return case.workload, case.new


if __name__ == "__main__":
    main(*(int(each) for each in sys.argv[1:]))
