"""The earliest day that can be promised for a new order, and the day it cannot be before."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from random import Random

from planner.problems import BadInput, Impossible, Limit, Problem, Undecided
from planner.schedule.bounds import Bounds, FirstDay
from planner.schedule.climb import FULL_PULL, Aim, Found, Ladder, Search, days_late
from planner.schedule.floor import DAY, Floor
from planner.schedule.meter import Meter, halves
from planner.schedule.planning import Plan, guarded_days, make_plan, put_into_gaps
from planner.schedule.proof import Proof, day_in_words
from planner.schedule.timetable import Timetable
from planner.schedule.windows import almanacs
from planner.schedule.workload import NewOrder, Workload, with_order

PATIENCE = 40


@dataclass(frozen=True)
class Promise:
    """A day an order can be ready, with the timetable that shows it.

    It cannot be before `not_before`, and `proof` says why; the two are the same when the day is
    exact. `undisturbed` is the day it would be ready if nothing already planned were moved; None
    where that was not found.
    """

    day: int
    not_before: int
    timetable: Timetable
    proof: Proof | None
    undisturbed: int | None

    def __post_init__(self) -> None:
        if self.day < self.not_before:
            raise BadInput("day", "cannot be before the day that is proved to be the first.")


def promise(
    workload: Workload, new: NewOrder, *, limit: Limit, seed: int = 0
) -> Promise | Impossible | Undecided:
    """Return the earliest day found for a new order.

    No order in the workload, paid or pencilled in, is finished later than its due, or than the
    best timetable without the new order finishes it, whichever is later. The day the customer
    wants plays no part. Undecided: no day was found before the horizon ends, nor ruled out.
    """
    to_prepare, to_answer = halves(limit)
    current = make_plan(workload, None, to_prepare, seed)
    joined = _without_missed_pins(with_order(workload, new), current)
    floor = Floor(joined)
    days = floor.days_by_order(
        {o: day for o, day in guarded_days(workload, current).items() if day < floor.days}
    )
    first = Bounds(floor).first_day(floor.orders.index(new.due.order), days)
    if first.day is None:
        return _ruled_out(joined, first)
    quest = _Quest(floor, new.due.order, days, first=first, current=current)
    quest.search(Meter(to_answer), Random(seed))
    return quest.answer()


def _without_missed_pins(workload: Workload, plan: Plan) -> Workload:
    """Return the workload with the pins loosened that the plan could not keep, as with a due that is past."""
    astray = {s for s, _, day, _, _ in plan.stints if day != plan.floor.pin[s]}
    astray |= {s for s, instant in enumerate(plan.done) if instant < 0 or instant // DAY != plan.floor.pin[s]}
    loose = {plan.floor.stages[s].id: plan.floor.pin[s] for s in astray}
    stages = (
        replace(stage, pin=None, ready=max(stage.ready, loose[stage.id] or 0)) if stage.id in loose else stage
        for stage in workload.stages
    )
    return replace(workload, stages=tuple(stages))


def _ruled_out(workload: Workload, first: FirstDay) -> Impossible:
    last = day_in_words(workload, workload.days - 1)
    words = first.proof.words(workload) if first.proof else ""
    problem = Problem(
        what=f"It cannot be ready by {last}. {words}".strip(),
        where=first.proof.stages if first.proof else (),
        change="Give it more working hours, let somebody else do part of it,"
        f" or look further ahead than {last}.",
    )
    return Impossible((problem,), first.proof)


class _Quest:
    """The search for one promise: days are probed between what is proved and what is found."""

    def __init__(
        self, floor: Floor, order: str, days: Sequence[int | None], *, first: FirstDay, current: Plan
    ) -> None:
        self.floor, self.days, self.current = floor, tuple(days), current
        self.books = almanacs(floor)
        self.order = floor.orders.index(order)
        self.first = first
        self.not_before = first.day or 0
        self.best = put_into_gaps(floor, current)
        self.undisturbed = None if self.best is None else self._day(self.best)
        self.done_anyway = [
            floor.number[stage.id]
            for stage, instant in zip(current.floor.stages, current.done, strict=True)
            if instant >= 0
        ]

    def _day(self, plan: Plan) -> int:
        return plan.finish()[self.floor.orders[self.order]]

    def earliest(self) -> int:
        """Return the earliest day found; the first after the horizon if none is."""
        return self.floor.days if self.best is None else self._day(self.best)

    def answer(self) -> Promise | Undecided:
        """Return what is known by now."""
        if self.best is None:
            last = day_in_words(self.floor.workload, self.floor.days - 1)
            problem = Problem(
                what=f"No room was found before {last}; that there is none is not proved.",
                where=(self.floor.orders[self.order],),
                change=f"Look further ahead than {last}, or let the search go on for longer.",
            )
            return Undecided((problem,), self.not_before)
        return Promise(
            self.earliest(), self.not_before, self.best.timetable(), self.first.proof, self.undisturbed
        )

    def search(self, meter: Meter, rng: Random) -> None:
        """Probe the first day not ruled out, at first without climbing, then days picked at random."""
        self.meter = meter
        if self.best is not None:
            meter.heard(self.answer)
        turn = 0
        while self.earliest() > self.not_before and meter.goes_on():
            day = self.not_before if turn < 6 else rng.randint(self.not_before, self.earliest() - 1)
            self._probe(day, turn, rng)
            turn += 1

    def _probe(self, day: int, turn: int, rng: Random) -> None:
        """Climb towards the new order finishing by a day and others by theirs, from one of three starts."""
        days = tuple(day if o == self.order else kept for o, kept in enumerate(self.days))
        ladder = Ladder(self.floor, self.books, days)
        if turn % 3 == 0:
            ladder.follow(self._ranks())
        ones = [1] * len(days)
        aim = Aim(days, lambda run, finish: (days_late(finish, days, ones),))
        search = Search(ladder, aim, self.meter, rng, seen=self._seen)
        start = search.judge(search.plain(pull=1 if turn % 3 == 2 else FULL_PULL))
        if turn >= 3:
            search.climb(start, PATIENCE)

    def _ranks(self) -> list[int | None]:
        keys = dict(zip((stage.id for stage in self.current.floor.stages), self.current.keys, strict=True))
        return [keys.get(stage.id) for stage in self.floor.stages]

    def _seen(self, found: Found) -> None:
        kept = all(day is None or end <= day for end, day in zip(found.finish, self.days, strict=True))
        done = all(found.run.done[s] >= 0 for s in self.done_anyway)
        if kept and done and found.finish[self.order] < self.earliest():
            self.best = Plan(self.floor, found.run.stints, found.run.done, found.run.keys)
            self.meter.heard(self.answer)
