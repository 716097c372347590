"""The earliest day that can be promised for a new order, and the day it cannot be before."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from random import Random

from planner.problems import BadInput, Impossible, Limit, Problem, Undecided
from planner.schedule.bounds import Bounds, FirstDay
from planner.schedule.check import check_timetable
from planner.schedule.climb import Ladder, strayed
from planner.schedule.dispatch import Run, dispatch
from planner.schedule.floor import DAY, Floor, StintRow, finish_days
from planner.schedule.meter import Meter, Stopwatch
from planner.schedule.planning import Plan, as_plan, carried_over, guarded_days, make_plan, put_into_gaps
from planner.schedule.proof import Proof, day_in_words
from planner.schedule.quest import Quest
from planner.schedule.timetable import Timetable
from planner.schedule.windows import Tails
from planner.schedule.workload import NewOrder, Workload, with_order


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
    return promise_knowing(workload, new, (), limit=limit, seed=seed)


def promise_knowing(
    workload: Workload, new: NewOrder, known: Sequence[Timetable], *, limit: Limit, seed: int
) -> Promise | Impossible | Undecided:
    """Return the promise, no later than any of the known timetables that hold here, too, allows."""
    watch = Stopwatch(limit)
    current = _plan_without_it(workload, watch.half(), seed)
    joined = _without_missed_pins(with_order(workload, new), current)
    floor = Floor(joined)
    days = floor.days_by_order(
        {o: day for o, day in guarded_days(workload, current).items() if day < floor.days}
    )
    first = Bounds(floor).first_day(floor.orders.index(new.due.order), days)
    if first.day is None:
        return _ruled_out(joined, first)
    inquiry = _Inquiry(floor, new.due.order, days, first=first, current=current)
    for timetable in known:
        inquiry.consider(timetable)
    inquiry.search(Meter(watch.left(current.steps)), Random(seed))
    return inquiry.answer()


def _plan_without_it(workload: Workload, limit: Limit, seed: int) -> Plan:
    """Return the plan beside which a new order is looked for; for a counted limit it is made once."""
    if limit.seconds is not None or limit.effort is None:
        return make_plan(workload, None, limit, seed)
    return _counted_plan(workload, limit.effort, seed)


@lru_cache(maxsize=4)
def _counted_plan(workload: Workload, effort: int, seed: int) -> Plan:
    return make_plan(workload, None, Limit(effort=effort), seed)


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


class _Inquiry:
    """What is known of one promise: the best plan so far, and what counts as harming nobody."""

    def __init__(
        self, floor: Floor, order: str, days: Sequence[int | None], *, first: FirstDay, current: Plan
    ) -> None:
        self.floor, self.days, self.current = floor, tuple(days), current
        self.order = floor.orders.index(order)
        self.first = first
        self.not_before = first.day or 0
        self.best = put_into_gaps(floor, current)
        self.undisturbed = None if self.best is None else self._day(self.best)
        standing = carried_over(floor, current)
        mine = {s for s, o in enumerate(floor.order_of) if o == self.order}
        self.done_anyway = [s for s, instant in enumerate(standing.done) if instant >= 0]
        self.open_anyway = {s for s, instant in enumerate(standing.done) if instant < 0 and s not in mine}
        self.worked_anyway = self._minutes_of_what_stays_open(standing.stints)
        self.watch: Callable[[Callable[[], Promise | Undecided]], None] = lambda answer: None

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

    def consider(self, timetable: Timetable) -> None:
        """Take up a timetable made for another workload if it can be worked in this one as it stands."""
        plan = as_plan(self.floor, timetable)
        if plan is None or plan.finish()[self.floor.orders[self.order]] >= self.earliest():
            return
        run = Run(plan.stints, plan.done, plan.keys)
        sound = not check_timetable(self.floor.workload, plan.timetable())
        if sound and self._harms_nobody(run, finish_days(self.floor, plan.done)):
            self.best = plan

    def search(self, meter: Meter, rng: Random) -> None:
        """Follow the current plan first, then look for better ones."""
        self.watch = meter.heard
        if self.best is not None:
            meter.heard(self.answer)
        if self.earliest() > self.not_before and meter.goes_on():
            meter.used += 1
            run = dispatch(self.floor, self._as_now(self.not_before))
            self._seen(run, finish_days(self.floor, run.done))
        quest = Quest(
            self.floor,
            self.order,
            self.days,
            left_open=len(self.open_anyway),
            standing=self._as_now(None) if self.current.steps > 1 else None,
        )
        quest.search(lambda: (self.not_before, self.earliest()), self._seen, meter, rng)

    def _as_now(self, day: int | None) -> list[int]:
        """Return keys in the order of the current plan, with the new order pressing for a day, if any."""
        days = tuple(day if o == self.order else own for o, own in enumerate(self.days))
        ladder = Ladder(self.floor, Tails(self.floor), days)
        keys = dict(zip((stage.id for stage in self.current.floor.stages), self.current.keys, strict=True))
        ladder.follow([keys.get(stage.id) for stage in self.floor.stages])
        return ladder.latest

    def _seen(self, run: Run, finish: list[int]) -> None:
        if finish[self.order] < self.earliest() and self._harms_nobody(run, finish):
            self.best = Plan(self.floor, run.stints, run.done, run.keys)
            self.watch(self.answer)

    def _harms_nobody(self, run: Run, finish: Sequence[int]) -> bool:
        """Return whether all keep their days and their pins, and what stays unfinished gets no less work."""
        return (
            all(day is None or end <= day for end, day in zip(finish, self.days, strict=True))
            and all(run.done[s] >= 0 for s in self.done_anyway)
            and not strayed(self.floor, run)
            and self._gets_no_less(self._minutes_of_what_stays_open(run.stints))
        )

    def _minutes_of_what_stays_open(self, stints: Sequence[StintRow]) -> Counter[int]:
        minutes: Counter[int] = Counter()
        for s, _, _, _, worked in stints if self.open_anyway else ():
            if s in self.open_anyway:
                minutes[self.floor.order_of[s]] += worked
        return minutes

    def _gets_no_less(self, minutes: Counter[int]) -> bool:
        return all(minutes[o] >= worked for o, worked in self.worked_anyway.items())
