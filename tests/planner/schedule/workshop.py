"""Small invented workshops for the tests of the schedule."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from itertools import pairwise

from hypothesis import strategies as st

from planner.problems import Limit
from planner.schedule import (
    Due,
    Machine,
    NewOrder,
    Person,
    Promise,
    Stage,
    Wait,
    Workload,
    check_proof,
    check_timetable,
    with_order,
)

MONDAY = date(2027, 4, 26)
SHORT = Limit(effort=60)


def workload(people, stages, *, dues=(), waits=(), machines=(), days=None, origin=MONDAY) -> Workload:
    """Return a workload of tuples, as many days long as its people have minutes."""
    days = len(people[0].minutes) if days is None else days
    return Workload(origin, days, tuple(people), tuple(machines), tuple(dues), tuple(stages), tuple(waits))


def one_machine(
    jobs: Mapping[str, int], *, days: int, ready: Mapping[str, int] | None = None, dues=()
) -> Workload:
    """Return the one-machine problem of the textbooks: days of one minute each, one stage an order.

    A job that a book completes at time C finishes here on day C - 1.
    """
    stages = [
        Stage(j, j, "sew", minutes, ("ann",), ready=(ready or {}).get(j, 0)) for j, minutes in jobs.items()
    ]
    return workload([Person("ann", (1,) * days)], stages, dues=dues)


def by_time(due: Mapping[str, int], later: int = 0) -> dict[str, int]:
    """Return due times of a textbook, so much later, as last days."""
    return {job: time + later - 1 for job, time in due.items()}


def chain(
    order: str, minutes: Sequence[int], people=("ann",), wait: int = 0, **more
) -> tuple[list[Stage], list[Wait]]:
    """Return the stages of an order that wait for one another."""
    stages = [Stage(f"{order}{n}", order, "sew", m, people, **more) for n, m in enumerate(minutes)]
    return stages, [Wait(a.id, b.id, wait) for a, b in pairwise(stages)]


NAMES = ("ann", "ben", "cat")


@st.composite
def workloads(draw, *, most_orders: int = 4, days: int = 140) -> Workload:
    """Return any small workshop whose work fits comfortably in the days looked at."""
    people = []
    for name in NAMES[: draw(st.integers(1, 3))]:
        week = [120, *draw(st.lists(st.sampled_from((0, 0, 60, 90, 240)), min_size=6, max_size=6))]
        opens = draw(st.sampled_from((0, 540, 600)))
        people.append(Person(name, tuple(week[d % 7] for d in range(days)), (opens,) * days))
    names = tuple(person.id for person in people)
    frame = Machine(
        "frame", draw(st.integers(1, 2)), frozenset(draw(st.sets(st.integers(0, 20), max_size=4)))
    )
    stages, waits, dues = [], [], []
    for order in "ABCDEFGH"[: draw(st.integers(1, most_orders))]:
        for n in range(draw(st.integers(1, 4))):
            stage = draw(_stages(f"{order}{n}", order, names))
            if n:
                waits.append(Wait(stages[-1].id, stage.id, draw(st.integers(0, 3))))
            stages.append(stage)
        dues.append(
            Due(order, draw(st.integers(0, 40)), weight=draw(st.integers(1, 3)), firm=draw(st.booleans()))
        )
    if draw(st.booleans()) and stages[0].order != stages[-1].order:
        waits.append(Wait(stages[0].id, stages[-1].id, 0))
    return workload(people, stages, dues=dues, waits=waits, machines=(frame,))


@st.composite
def _stages(draw, name: str, order: str, people: tuple[str, ...]) -> Stage:
    return Stage(
        name,
        order,
        "sew",
        draw(st.integers(0, 60)),
        tuple(draw(st.sets(st.sampled_from(people), min_size=1))),
        machine=draw(st.sampled_from((None, None, "frame"))),
        ready=draw(st.integers(0, 10)),
        least=draw(st.sampled_from((0, 0, 30))),
    )


def shuffled(work: Workload, rng) -> Workload:
    """Return the same workload, entered in another order."""
    mixed = {field: list(getattr(work, field)) for field in ("people", "machines", "dues", "stages", "waits")}
    for items in mixed.values():
        rng.shuffle(items)
    stages = [
        replace(stage, people=tuple(rng.sample(stage.people, len(stage.people)))) for stage in mixed["stages"]
    ]
    return replace(
        work, **{field: tuple(items) for field, items in mixed.items()} | {"stages": tuple(stages)}
    )


def new_order(minutes: Sequence[int], *, order: str = "N", **more) -> NewOrder:
    """Return an order whose stages wait for one another."""
    stages, waits = chain(order, minutes, **more)
    return NewOrder(Due(order, 0), tuple(stages), tuple(waits))


def holds(work: Workload, new: NewOrder, answer: Promise) -> bool:
    """Return True for a promise that can be kept and whose proof adds up; fail otherwise."""
    joined = with_order(work, new)
    assert check_timetable(joined, answer.timetable) == ()
    assert answer.timetable.finish[new.due.order] == answer.day
    assert answer.proof is None or check_proof(joined, answer.proof) == ()
    assert answer.not_before <= answer.day
    return True
