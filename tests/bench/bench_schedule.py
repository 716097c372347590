"""Figures: how long a plan and a promise take at 10, 30 and 60 orders, 1 and 2 people. Run: make bench."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from itertools import product
from random import Random
from statistics import median
from time import perf_counter

from planner.problems import Limit
from planner.schedule import Due, NewOrder, Person, Promise, Stage, Wait, Workload, promise
from planner.schedule.climb import Ladder, Urgency
from planner.schedule.dispatch import dispatch
from planner.schedule.floor import Floor
from planner.schedule.windows import Tails

# A quilt of 12 blocks or so: kind, least and most minutes, days of waiting before.
STAGES = (
    ("log", 40, 90, 0),
    ("wash", 12, 36, 0),
    ("design", 90, 140, 1),
    ("cut", 60, 110, 3),
    ("fuse", 50, 90, 0),
    ("trim", 30, 50, 0),
    ("join", 70, 160, 1),
    ("quilt", 120, 220, 0),
    ("bind", 90, 130, 0),
    ("finish", 40, 60, 1),
)
HELPER_MAY = {"log", "wash", "cut", "finish"}


def order(name: str, due: Due, people: tuple[str, ...], rng: Random) -> NewOrder:
    """Return one invented order: ten stages in a chain, with waits for drying and the two yeses."""
    stages, waits = [], []
    for place, (kind, least, most, days) in enumerate(STAGES):
        may = tuple(who for who in people if who == "maker" or kind in HELPER_MAY)
        stages.append(Stage(f"{name}-{place:02}", name, kind, rng.randint(least, most), may))
        if place:
            waits.append(Wait(stages[-2].id, stages[-1].id, rng.randint(days, 2 * days)))
    return NewOrder(due, tuple(stages), tuple(waits))


def shop(orders: int, people: int, *, slack: int, seed: int) -> tuple[Workload, NewOrder]:
    """Return an invented shop, its dues up to `slack` days after some plan, and one order more."""
    rng = Random(seed)
    days = 60 + orders * 7
    weeks = {"maker": (300, 300, 300, 300, 300, 0, 0), "helper": (0, 120, 0, 120, 0, 360, 0)}
    names = ("maker", "helper")[:people]
    team = tuple(Person(who, tuple(weeks[who][d % 7] for d in range(days)), (540,) * days) for who in names)
    drafts = [order(f"{n:03}", Due(f"{n:03}", 0), names, rng) for n in range(orders + 1)]
    everything = Workload(
        date(2027, 1, 4),
        days,
        team,
        (),
        (),
        tuple(s for d in drafts for s in d.stages),
        tuple(w for d in drafts for w in d.waits),
    )
    floor = Floor(everything)
    ladder = Ladder(floor, Tails(floor), [rng.randrange(days) for _ in floor.orders])
    run = dispatch(floor, ladder.keys(Urgency((0,) * (orders + 1), (0,) * len(floor.kinds))))
    finish = floor.timetable(run.stints, run.done, run.keys).finish
    kept, new = drafts[:-1], drafts[-1]
    dues = tuple(Due(d.due.order, finish[d.due.order] + rng.randint(0, slack)) for d in kept)
    stages, waits = tuple(s for d in kept for s in d.stages), tuple(w for d in kept for w in d.waits)
    return replace(everything, dues=dues, stages=stages, waits=waits), new


def measure(orders: int, people: int, *, slack: int, seeds: range) -> str:
    """Return one line of figures for a size of shop."""
    plans, promises, exact, gaps = [], [], 0, []
    for seed in seeds:
        workload, new = shop(orders, people, slack=slack, seed=seed)
        floor = Floor(workload)
        ladder = Ladder(floor, Tails(floor), floor.days_by_order({d.order: d.day for d in workload.dues}))
        keys = ladder.keys(Urgency((0,) * orders, (0,) * len(floor.kinds)))
        begun = perf_counter()
        dispatch(floor, keys)
        plans.append(perf_counter() - begun)
        begun = perf_counter()
        answer = promise(workload, new, limit=Limit(effort=200), seed=seed)
        promises.append(perf_counter() - begun)
        if isinstance(answer, Promise):
            exact += answer.day == answer.not_before
            gaps.append(answer.day - answer.not_before)
    return (
        f"{orders:3} orders x {people}, slack up to {slack:2} days: plan {median(plans) * 1000:6.1f} ms,"
        f" promise {median(promises):5.2f} s (most {max(promises):5.2f}),"
        f" exact {exact}/{len(seeds)}, days between bound and date {sorted(gaps)}"
    )


def main() -> None:
    """Print the figures."""
    promise(
        *shop(2, 1, slack=20, seed=0), limit=Limit(effort=10)
    )  # loads the solver before anything is timed
    for slack, people, orders in product((20, 8), (1, 2), (10, 30, 60)):
        print(measure(orders, people, slack=slack, seeds=range(5)), flush=True)


if __name__ == "__main__":
    main()
