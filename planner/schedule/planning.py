"""Timetables: the best one found for a workload, and whether a set of days can be kept at all."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from random import Random

from planner.problems import Limit, Problem, Undecided
from planner.schedule.bounds import Bounds
from planner.schedule.climb import Aim, Cost, Found, Ladder, Search, days_late
from planner.schedule.dispatch import Run
from planner.schedule.floor import DAY, Floor, StintRow, finish_days, moment_after
from planner.schedule.gaps import fit_into_gaps
from planner.schedule.meter import Meter, halves
from planner.schedule.proof import Proof, day_in_words, names_in_words
from planner.schedule.timetable import Timetable
from planner.schedule.windows import Tails
from planner.schedule.workload import Due, Workload, without_pencilled

PATIENCE = 80
FORTNIGHT = 14


@dataclass(frozen=True)
class Plan:
    """A timetable by number: its stints, the finishing instants, the keys and the steps that made it."""

    floor: Floor
    stints: list[StintRow]
    done: list[int]
    keys: list[int]
    steps: int = 0

    def finish(self) -> dict[str, int]:
        """Return the day each order finishes."""
        return dict(zip(self.floor.orders, finish_days(self.floor, self.done), strict=True))

    def timetable(self) -> Timetable:
        """Return it with names."""
        return self.floor.timetable(self.stints, self.done, self.keys)


def make_timetable(
    workload: Workload, *, previous: Timetable | None = None, limit: Limit, seed: int = 0
) -> Timetable:
    """Return the best timetable found: fewest weighted days late, then what is pencilled in, then
    as in `previous` for the next fortnight, then by the target days; of equally good ones that with the
    fewest changes from one order to another within a day.

    What is pencilled in never makes a paid order later than the paid work alone would. Work that
    does not fit in the days looked at has no stints; `check_timetable` names it.
    """
    return make_plan(workload, previous, limit, seed).timetable()


def feasible(
    workload: Workload, due: Mapping[str, int], *, limit: Limit, seed: int = 0
) -> Timetable | Proof | Undecided:
    """Return a timetable that keeps the days asked, a proof that there is none, or neither.

    `due` gives days by order; a firm order it does not name keeps the day in the workload.
    """
    floor = Floor(workload)
    days = floor.days_by_order({entry.order: entry.day for entry in workload.dues if entry.firm} | dict(due))
    ones = [1] * len(days)
    aim = Aim(tuple(days), lambda run, finish: (days_late(finish, days, ones),))
    search = Search(Ladder(floor, Tails(floor), days), aim, Meter(limit), Random(seed))
    best = search.judge(search.plain())
    if any(best.cost):
        proof = Bounds(floor).proof(days)
        if proof is not None:
            return proof
        best = search.climb_in_turns(PATIENCE)
    if any(best.cost):
        return _not_settled(floor, best, days)
    return floor.timetable(best.run.stints, best.run.done, best.run.keys)


def _not_settled(floor: Floor, best: Found, days: Sequence[int | None]) -> Undecided:
    workload = floor.workload
    late = (
        end >= floor.days or days_late([end], [day], [1]) for end, day in zip(best.finish, days, strict=True)
    )
    names = [order for order, is_late in zip(floor.orders, late, strict=True) if is_late]
    last = day_in_words(workload, workload.days - 1)
    problem = Problem(
        what="No timetable was found that keeps every day asked; it is not ruled out either."
        f" The closest leaves {names_in_words(names) or 'a pinned stage'} late.",
        where=tuple(names),
        change=f"Try a later day, let the search go on for longer, or look further ahead than {last}.",
    )
    return Undecided((problem,))


def make_plan(workload: Workload, previous: Timetable | None, limit: Limit, seed: int) -> Plan:
    """Return the plan behind `make_timetable`."""
    paid = without_pencilled(workload)
    if len(paid.stages) == len(workload.stages):
        return _Week(workload, previous, {}).plan(limit, seed)
    first, second = halves(limit)
    alone = _Week(paid, previous, {}).plan(first, seed)
    guard = guarded_days(paid, alone)
    whole = _Week(workload, previous, guard).plan(second, seed)
    reached = whole.finish()
    steps = alone.steps + whole.steps
    if all(reached[order] <= day for order, day in guard.items()):
        return replace(whole, steps=steps)
    floor = whole.floor
    return replace(put_into_gaps(floor, alone) or carried_over(floor, alone), steps=steps)


def guarded_days(workload: Workload, plan: Plan) -> dict[str, int]:
    """Return the day each order with a due must keep: its due or, if later, its day in the plan."""
    reached = plan.finish()
    return {due.order: max(due.day, reached[due.order]) for due in workload.dues if due.order in reached}


class _Week:
    """The search for a timetable of one workload; `guard` holds days that come before everything else."""

    def __init__(self, workload: Workload, previous: Timetable | None, guard: Mapping[str, int]) -> None:
        self.floor = floor = Floor(workload)
        self.previous = previous
        dues = {due.order: due for due in workload.dues}
        self.dues = [dues.get(order, Due(order, floor.days)) for order in floor.orders]
        self.days = [due.day if due.order in dues else None for due in self.dues]
        self.guard = floor.days_by_order(guard)
        self.starts = _starting_days(previous)

    def plan(self, limit: Limit, seed: int) -> Plan:
        floor, meter = self.floor, Meter(limit)
        ladder = Ladder(floor, Tails(floor), self.days)
        if self.previous is not None:
            ladder.follow([self.previous.priority.get(stage.id) for stage in floor.stages])
        best: list[Found] = []

        def seen(found: Found) -> None:
            if not best or found.cost < best[0].cost or self._is_calmer(found, best[0]):
                best[:] = [found]
                meter.heard(lambda: floor.timetable(found.run.stints, found.run.done, found.run.keys))

        aim = Aim(tuple(self.days), self._cost, tuple(due.weight if due.firm else 0 for due in self.dues))
        Search(ladder, aim, meter, Random(seed), seen=seen).climb_in_turns(PATIENCE)
        run = best[0].run
        return Plan(floor, run.stints, run.done, run.keys, meter.used)

    def _cost(self, run: Run, finish: list[int]) -> Cost:
        return (
            days_late(finish, self.guard, [1] * len(finish)),
            days_late(finish, self.days, [due.weight if due.firm else 0 for due in self.dues]),
            days_late(finish, self.days, [0 if due.firm else 1 for due in self.dues]),
            self._moved(run),
            days_late(finish, [due.target for due in self.dues], [1] * len(finish)),
        )

    def _is_calmer(self, found: Found, best: Found) -> bool:
        """Return whether a plan as good as the best goes from order to order less often."""
        return found.cost == best.cost and switches(self.floor, found.run) < switches(self.floor, best.run)

    def _moved(self, run: Run) -> int:
        """Return how many stages of the coming fortnight start more than a day from where they did."""
        if not self.starts:
            return 0
        now: dict[int, int] = {}
        for s, _, day, _, _ in run.stints:
            now.setdefault(s, day)
        stages = self.floor.stages
        return sum(abs(day - self.starts.get(stages[s].id, day)) > 1 for s, day in now.items())


def switches(floor: Floor, run: Run) -> int:
    """Return how often somebody goes from one order to another within a day."""
    rows = sorted((p, day, start, floor.order_of[s]) for s, p, day, start, _ in run.stints)
    return sum(a[:2] == b[:2] and a[3] != b[3] for a, b in pairwise(rows))


def _starting_days(previous: Timetable | None) -> dict[str, int]:
    starts: dict[str, int] = {}
    for stint in previous.stints if previous else ():
        if stint.day < FORTNIGHT:
            starts.setdefault(stint.stage, stint.day)
    return starts


def carried_over(floor: Floor, plan: Plan) -> Plan:
    """Return a plan of a smaller workload by the numbers of a larger one, whose other work is left open."""
    number = [floor.number[stage.id] for stage in plan.floor.stages]
    person = [floor.people.index(name) for name in plan.floor.people]
    done = [-1] * len(floor.stages)
    for s, instant in enumerate(plan.done):
        done[number[s]] = instant
    stints = [(number[s], person[p], day, start, minutes) for s, p, day, start, minutes in plan.stints]
    return Plan(floor, stints, done, _keys_by_start(floor, stints, done))


def as_plan(floor: Floor, timetable: Timetable) -> Plan | None:
    """Return a timetable by the numbers of a floor; None if it has a stage or a person unknown there."""
    person = {name: p for p, name in enumerate(floor.people)}
    if any(
        s.stage not in floor.number or s.person not in person or s.day >= floor.days for s in timetable.stints
    ):
        return None
    stints = [
        (floor.number[each.stage], person[each.person], each.day, each.start, each.minutes)
        for each in timetable.stints
    ]
    rest, ends = list(floor.effort), [0] * len(floor.stages)
    for s, _, day, start, minutes in stints:
        rest[s] -= minutes
        ends[s] = max(ends[s], day * DAY + start + minutes)
    done = [-1] * len(floor.stages)
    for s in floor.in_turn:
        before = [(done[earlier], days) for earlier, days in floor.before[s]]
        if floor.effort[s]:
            done[s] = -1 if rest[s] > 0 else ends[s]
        elif all(instant >= 0 for instant, _ in before):
            free = max([floor.ready[s] * DAY, *(moment_after(instant, days) for instant, days in before)])
            done[s] = free if free < floor.days * DAY else -1
    return Plan(floor, stints, done, _keys_by_start(floor, stints, done))


def put_into_gaps(floor: Floor, plan: Plan) -> Plan | None:
    """Return a plan with the work that a larger workload adds, put where it moves nothing; None: no room."""
    standing = carried_over(floor, plan)
    known = {stage.id for stage in plan.floor.stages}
    fresh = [s for s, stage in enumerate(floor.stages) if stage.id not in known]
    fitted = fit_into_gaps(floor, standing.stints, standing.done, fresh)
    if fitted is None:
        return None
    stints, done = fitted
    return Plan(floor, stints, done, _keys_by_start(floor, stints, done))


def _keys_by_start(floor: Floor, stints: Sequence[StintRow], done: Sequence[int]) -> list[int]:
    keys = [floor.days * DAY if instant < 0 else instant for instant in done]
    for s, _, day, start, _ in stints:
        keys[s] = min(keys[s], day * DAY + start)
    return keys
