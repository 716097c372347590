"""Adding a proof up again, by walking through the days; shares nothing with what found it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from planner.problems import Problem
from planner.schedule.proof import Proof
from planner.schedule.workload import Stage, Workload

Moment = tuple[int, int]  # day, minute of the day
END_OF_DAY = 24 * 60


def check_proof(workload: Workload, proof: Proof) -> tuple[Problem, ...]:
    """Return what is wrong with a proof about a workload; () when it holds.

    The workload is the one the question was about, with the new order in it (`with_order`) if it
    was a promise. The days asked are those the proof names, not the dues in the workload.
    """
    known = {stage.id for stage in workload.stages}
    strangers = [name for name in proof.stages if name not in known]
    if strangers or not proof.stages or len(set(proof.stages)) != len(proof.stages):
        return (Problem("The proof does not name stages of this workload, each once.", tuple(strangers)),)
    return tuple(_faults(_Recount(workload, proof)))


def _faults(recount: _Recount) -> Iterator[Problem]:
    proof, stages = recount.proof, recount.stages
    if sum(stage.minutes for stage in stages) != proof.demand:
        yield Problem(f"The stages do not add up to {proof.demand} minutes.", proof.stages)
    allowed = {name for stage in stages for name in stage.people}
    if not allowed <= set(proof.people):
        yield Problem(
            "Somebody who may do part of this work is left out.", tuple(sorted(allowed - set(proof.people)))
        )
    if proof.kind == "chain":
        yield from recount.chain_faults()
    else:
        yield from recount.sum_faults()


class _Recount:
    def __init__(self, workload: Workload, proof: Proof) -> None:
        self.workload, self.proof = workload, proof
        self.people = {person.id: person for person in workload.people}
        self.machines = {machine.id: machine for machine in workload.machines}
        self.by_id = {stage.id: stage for stage in workload.stages}
        self.stages = [self.by_id[name] for name in proof.stages]
        self._ends: dict[str, Moment] = {}
        self._limits: dict[str, Moment | None] = {}

    # -- chains ---------------------------------------------------------------------------------

    def chain_faults(self) -> Iterator[Problem]:
        waits = {(wait.before, wait.after): 0 for wait in self.workload.waits}
        for wait in self.workload.waits:
            waits[wait.before, wait.after] = max(wait.days, waits[wait.before, wait.after])
        if any(pair not in waits for pair in zip(self.proof.stages, self.proof.stages[1:], strict=False)):
            yield Problem("These stages do not wait for one another.", self.proof.stages)
            return
        moment, done = (0, 0), 0
        for place, stage in enumerate(self.stages):
            if place:
                moment = _after(moment, waits[self.proof.stages[place - 1], stage.id])
            moment = max(moment, (stage.ready, 0), (stage.pin or 0, 0))
            done += self._done_by(stage, moment)
            moment = self._finish(stage, moment)
        last = self.stages[-1]
        asked = [day for day in (self.proof.orders.get(last.order), last.pin) if day is not None]
        if self.proof.last not in asked:
            yield Problem("The last day is not one that was asked for.", (last.id,))
        if moment <= (self.proof.last, END_OF_DAY):
            yield Problem("The chain can be finished in time.", self.proof.stages)
        if done > self.proof.capacity:
            yield Problem(f"In fact {done} minutes of the chain can be done in time.", self.proof.stages)

    def _done_by(self, stage: Stage, start: Moment) -> int:
        days = range(start[0], min(self.proof.last + 1, self.workload.days))
        return min(
            stage.minutes, sum(self._room(stage, day, start, (self.proof.last, END_OF_DAY)) for day in days)
        )

    # -- sums -----------------------------------------------------------------------------------

    def sum_faults(self) -> Iterator[Problem]:
        windows = {stage.id: self._window(stage) for stage in self.stages}
        for stage in self.stages:
            start, end = windows[stage.id]
            days = (
                []
                if end is None
                else [day for day in range(start[0], end[0] + 1) if self._room(stage, day, start, end)]
            )
            if end is None or (days and (days[0] < self.proof.first or days[-1] > self.proof.last)):
                yield Problem(f"{stage.id} can also be done outside the days named.", (stage.id,))
                return
        if self.proof.kind == "capacity":
            people = [self.people[name] for name in self.proof.people]
            capacity = sum(sum(person.minutes[self.proof.first : self.proof.last + 1]) for person in people)
            if capacity != self.proof.capacity:
                yield Problem(f"The people named work {capacity} minutes in those days.", self.proof.people)
            return
        capacity = sum(
            self._most_on(day, windows) for day in range(max(0, self.proof.first), self.proof.last + 1)
        )
        if capacity > self.proof.capacity:
            yield Problem(f"In fact {capacity} minutes of these stages can be done.", self.proof.stages)

    def _most_on(self, day: int, windows: dict[str, tuple[Moment, Moment | None]]) -> int:
        """Return a bound on what can be done of the stages on a day.

        For any group of people: what they work, and the room of all stages that others may do.
        """
        room: dict[tuple[frozenset[str], str | None], int] = {}
        for stage in self.stages:
            start, end = windows[stage.id]
            key = frozenset(stage.people), stage.machine
            room[key] = room.get(key, 0) + self._room(stage, day, start, end or (self.workload.days, 0))
        for people, machine in room:
            if machine is not None:
                room[people, machine] = min(
                    room[people, machine], self._machine_minutes(people, machine, day)
                )
        sets = sorted({people for people, _ in room}, key=sorted)
        groups = {
            frozenset[str]().union(*chosen) for n in range(len(sets) + 1) for chosen in combinations(sets, n)
        }
        return min(
            sum(self.people[name].minutes[day] for name in group)
            + sum(minutes for (people, _), minutes in room.items() if not people <= group)
            for group in groups
        )

    def _machine_minutes(self, people: frozenset[str], machine: str, day: int) -> int:
        there = [self.people[name] for name in people if self.people[name].minutes[day]]
        if not there:
            return 0
        span = max(person.closing(day) for person in there) - min(person.opening(day) for person in there)
        return span * self.machines[machine].units

    # -- the earliest and latest a stage can be worked on ---------------------------------------

    def _window(self, stage: Stage) -> tuple[Moment, Moment | None]:
        return self._from(stage), self._until(stage)

    def _from(self, stage: Stage) -> Moment:
        moment = max((stage.ready, 0), (stage.pin or 0, 0))
        for wait in self.workload.waits:
            if wait.after == stage.id:
                moment = max(moment, _after(self._end(self.by_id[wait.before]), wait.days))
        return moment

    def _end(self, stage: Stage) -> Moment:
        if stage.id not in self._ends:
            self._ends[stage.id] = self._finish(stage, self._from(stage))
        return self._ends[stage.id]

    def _until(self, stage: Stage) -> Moment | None:
        if stage.id not in self._limits:
            limits = [day for day in (self.proof.orders.get(stage.order), stage.pin) if day is not None]
            moments = [(day, END_OF_DAY) for day in limits if day < self.workload.days]
            for wait in self.workload.waits:
                later = self._until(self.by_id[wait.after]) if wait.before == stage.id else None
                if later is not None:
                    start = self._latest_start(self.by_id[wait.after], later)
                    moments.append(start if wait.days == 0 else (start[0] - wait.days, END_OF_DAY))
            self._limits[stage.id] = min(moments, default=None)
        return self._limits[stage.id]

    def _finish(self, stage: Stage, start: Moment) -> Moment:
        """Return when a stage can be finished, the best one person a day on it; past the horizon: never."""
        rest, forever = stage.minutes, (self.workload.days, 0)
        if not rest:
            return start
        for day in range(start[0], self.workload.days):
            for minute in range(END_OF_DAY + 1) if self._room(stage, day, start, forever) >= rest else ():
                if self._room(stage, day, start, (day, minute)) >= rest:
                    return day, minute
            rest -= self._room(stage, day, start, forever)
        return forever

    def _latest_start(self, stage: Stage, end: Moment) -> Moment:
        rest = stage.minutes
        if not rest:
            return end
        for day in range(end[0], -1, -1):
            for minute in range(END_OF_DAY, -1, -1) if self._room(stage, day, (day, 0), end) >= rest else ():
                if self._room(stage, day, (day, minute), end) >= rest:
                    return day, minute
            rest -= self._room(stage, day, (day, 0), end)
        return -1, 0

    def _room(self, stage: Stage, day: int, start: Moment, end: Moment) -> int:
        """Return the most minutes one person can give a stage on a day between two moments."""
        if stage.machine is not None and day in self.machines[stage.machine].closed:
            return 0
        since = start[1] if day == start[0] else 0 if day > start[0] else END_OF_DAY
        until = end[1] if day == end[0] else END_OF_DAY if day < end[0] else 0
        there = [self.people[name] for name in stage.people]
        return max(
            [0, *(min(person.closing(day), until) - max(person.opening(day), since) for person in there)]
        )


def _after(moment: Moment, days: int) -> Moment:
    return moment if not days else (moment[0] + days, 0)
