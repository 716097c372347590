"""Invented shops with a plan hidden in them, so that a day for one order more is known to be possible."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from random import Random

from planner.schedule import Due, NewOrder, Person, Stage, Wait, Workload
from planner.schedule.climb import Ladder, Urgency
from planner.schedule.dispatch import dispatch
from planner.schedule.floor import Floor
from planner.schedule.windows import Tails

SLACK = {"tight": 8, "mid": 20}  # most days between the hidden plan and what was asked
LOADS = (0.85, 0.95, 1.0)
SPARE_DAYS = 120
# A quilt of some twelve blocks: kind, least and most minutes, least and most days of waiting before it.
CHAIN = (
    ("log", 40, 90, 0, 0),
    ("wash", 12, 36, 0, 0),
    ("design", 90, 140, 1, 1),
    ("cut", 60, 110, 1, 7),
    ("fuse", 50, 90, 0, 0),
    ("trim", 30, 50, 0, 0),
    ("join", 70, 160, 1, 7),
    ("quilt", 120, 220, 0, 0),
    ("bind", 90, 130, 0, 0),
)
BACKING = ("back", 30, 60, 4, 14)
WEEKS = {
    "maker": (300, 300, 300, 300, 300, 0, 0),
    "helper": (120, 120, 0, 120, 120, 0, 0),
    "second helper": (0, 180, 0, 180, 0, 240, 0),
}
MAY = {
    "helper": {"log", "wash", "cut", "fuse", "back"},
    "second helper": {"wash", "fuse", "trim", "join", "bind"},
}


@dataclass(frozen=True)
class Planted:
    """A shop, one order more, and a day on which that order can be ready with nobody made late."""

    workload: Workload
    new: NewOrder
    day: int


def planted(orders: int, people: int, *, family: str, seed: int) -> Planted:
    """Return an invented shop of a family, *tight* or *mid*, with an order asked for beside its own.

    Dues are the days of a hidden plan and some more; two orders in five are begun already, and one in
    five comes later. There is one holiday in 40 days, and everybody has a week off.
    """
    rng = Random(f"{family} {orders} {people} {seed}")
    names = tuple(WEEKS)[:people]
    drafts = [_order(f"{n:03}", names, rng) for n in range(orders + 1)]
    work = sum(stage.minutes for draft in drafts for stage in draft.stages)
    a_week = sum(sum(WEEKS[name]) for name in names)
    span = max(21, round(7 * work / a_week / rng.choice(LOADS) * 1.08))
    drafts = [_perhaps_later(draft, span, rng) for draft in drafts]
    team = _people(names, span, rng)
    finish = _hidden_plan(_workload(team, drafts), span, rng)
    dues = {name: day + rng.randint(0, SLACK[family]) for name, day in finish.items()}
    middle = sorted(finish, key=lambda name: (finish[name], name))[len(finish) // 4 : -len(finish) // 4]
    chosen = rng.choice(middle)
    dated = [replace(d, due=Due(d.due.order, dues[d.due.order])) for d in drafts]
    new = next(d for d in dated if d.due.order == chosen)
    return Planted(_workload(team, [d for d in dated if d is not new]), new, finish[chosen])


def _order(name: str, people: tuple[str, ...], rng: Random) -> NewOrder:
    size = rng.uniform(0.7, 1.5)
    stages, waits = [], []
    for place, (kind, least, most, *_) in enumerate((*CHAIN, BACKING)):
        may = tuple(who for who in people if who == "maker" or kind in MAY[who])
        stages.append(Stage(f"{name}-{place}", name, kind, round(rng.randint(least, most) * size), may))
    for place in range(1, len(CHAIN)):
        waits.append(
            Wait(stages[place - 1].id, stages[place].id, rng.randint(CHAIN[place][3], CHAIN[place][4]))
        )
    quilt, back = stages[7], stages[9]
    waits += [Wait(stages[0].id, back.id, rng.randint(BACKING[3], BACKING[4])), Wait(back.id, quilt.id)]
    return NewOrder(Due(name, 0), tuple(stages), tuple(waits))


def _perhaps_later(draft: NewOrder, span: int, rng: Random) -> NewOrder:
    lot = rng.random()
    if lot < 0.4:
        begun = {stage.id for stage in draft.stages[: rng.randint(1, 6)]}
        return NewOrder(
            draft.due,
            tuple(stage for stage in draft.stages if stage.id not in begun),
            tuple(wait for wait in draft.waits if not begun & {wait.before, wait.after}),
        )
    if lot < 0.6:
        ready = rng.randint(1, span // 2)
        return replace(draft, stages=tuple(replace(stage, ready=ready) for stage in draft.stages))
    return draft


def _people(names: tuple[str, ...], span: int, rng: Random) -> tuple[Person, ...]:
    days = span + SPARE_DAYS
    holidays = set(rng.sample(range(days), days // 40))
    team = []
    for name in names:
        away = rng.randrange(span)
        minutes = tuple(
            0 if d in holidays or away <= d < away + 7 else WEEKS[name][d % 7] for d in range(days)
        )
        team.append(Person(name, minutes, (540,) * days))
    return tuple(team)


def _workload(team: tuple[Person, ...], drafts: list[NewOrder]) -> Workload:
    return Workload(
        date(2027, 1, 4),
        len(team[0].minutes),
        team,
        (),
        tuple(d.due for d in drafts),
        tuple(s for d in drafts for s in d.stages),
        tuple(w for d in drafts for w in d.waits),
    )


def _hidden_plan(workload: Workload, span: int, rng: Random) -> dict[str, int]:
    floor = Floor(workload)
    ladder = Ladder(floor, Tails(floor), [rng.randrange(span) for _ in floor.orders])
    run = dispatch(floor, ladder.keys(Urgency((0,) * len(floor.orders), (0,) * len(floor.kinds))))
    return dict(floor.timetable(run.stints, run.done, run.keys).finish)
