"""Reading a timetable with a suspicious eye; shares nothing with what made it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import pairwise

from planner.problems import Problem
from planner.schedule.timetable import Stint, Timetable
from planner.schedule.workload import Stage, Workload

Moment = tuple[int, int]  # day, minute of the day


def check_timetable(workload: Workload, timetable: Timetable) -> tuple[Problem, ...]:
    """Return everything in a timetable that could not be worked as written; () when it is sound.

    Being late is no fault of a timetable, but `finish` and `late` must say so.
    """
    strange = tuple(_stints_name_known_stages_people_and_days(workload, timetable))
    if strange:
        return strange
    reading = _Reading(workload, timetable)
    rules = (
        _people_do_only_what_they_may,
        _work_stays_in_working_hours,
        _nobody_is_in_two_places,
        _every_stage_gets_its_minutes,
        _one_person_a_day_on_a_stage,
        _no_stint_is_too_short,
        _stages_wait_until_ready,
        _pinned_stages_keep_their_day,
        _stages_wait_for_one_another,
        _no_work_on_a_closed_machine,
        _no_more_on_a_machine_than_it_holds,
        _finish_and_late_are_true,
    )
    return tuple(problem for rule in rules for problem in rule(reading))


class _Reading:
    def __init__(self, workload: Workload, timetable: Timetable) -> None:
        self.workload, self.timetable = workload, timetable
        self.people = {person.id: person for person in workload.people}
        self.stages = {stage.id: stage for stage in workload.stages}
        self.stints: dict[str, list[Stint]] = {stage.id: [] for stage in workload.stages}
        for stint in sorted(timetable.stints, key=lambda stint: (stint.day, stint.start)):
            self.stints[stint.stage].append(stint)
        self._ends: dict[str, Moment | None] = {}

    def worked(self, stage: Stage) -> int:
        return sum(stint.minutes for stint in self.stints[stage.id])

    def end(self, stage: Stage) -> Moment | None:
        """Return the moment a stage is finished; None if it never is. Without work: once it may start."""
        if stage.id not in self._ends:
            if stage.minutes:
                stints = self.stints[stage.id]
                done = self.worked(stage) >= stage.minutes
                self._ends[stage.id] = max((s.day, s.start + s.minutes) for s in stints) if done else None
            else:
                self._ends[stage.id] = self.may_start(stage)
        return self._ends[stage.id]

    def may_start(self, stage: Stage) -> Moment | None:
        """Return the moment everything a stage waits for is over; None if something never is."""
        moments = [(max(stage.ready, stage.pin or 0), 0)]
        for wait in self.workload.waits:
            if wait.after == stage.id:
                end = self.end(self.stages[wait.before])
                if end is None:
                    return None
                moments.append(end if wait.days == 0 else (end[0] + wait.days, 0))
        moment = max(moments)
        return moment if moment[0] < self.workload.days else None


def _at(stint: Stint) -> str:
    return f"day {stint.day}, minute {stint.start}"


def _stints_name_known_stages_people_and_days(workload: Workload, timetable: Timetable) -> Iterator[Problem]:
    stages = {stage.id for stage in workload.stages}
    people = {person.id for person in workload.people}
    for stint in timetable.stints:
        if stint.stage not in stages:
            yield Problem(f"There is no stage {stint.stage}.", (stint.stage,))
        if stint.person not in people:
            yield Problem(f"There is nobody called {stint.person}.", (stint.person,))
        if stint.day >= workload.days:
            yield Problem(f"{stint.stage} is worked on after the days looked at.", (stint.stage,))


def _people_do_only_what_they_may(reading: _Reading) -> Iterator[Problem]:
    for stint in reading.timetable.stints:
        if stint.person not in reading.stages[stint.stage].people:
            yield Problem(
                f"{stint.person} may not do {stint.stage}.",
                (stint.stage, stint.person),
                "Give it to somebody who may.",
            )


def _work_stays_in_working_hours(reading: _Reading) -> Iterator[Problem]:
    for stint in reading.timetable.stints:
        person = reading.people[stint.person]
        if stint.start < person.opening(stint.day) or stint.start + stint.minutes > person.closing(stint.day):
            what = f"{stint.person} does not work then: {stint.stage}, {_at(stint)}, {stint.minutes} minutes."
            yield Problem(what, (stint.stage, stint.person), "Move it into her hours, or enter overtime.")


def _nobody_is_in_two_places(reading: _Reading) -> Iterator[Problem]:
    by_day: dict[tuple[str, int], list[Stint]] = defaultdict(list)
    for stint in reading.timetable.stints:
        by_day[stint.person, stint.day].append(stint)
    for (person, _), stints in sorted(by_day.items()):
        for earlier, later in _pairs(stints):
            if later.start < earlier.start + earlier.minutes:
                yield Problem(
                    f"{person} is on {earlier.stage} and {later.stage} at once.",
                    (earlier.stage, later.stage, person),
                )


def _pairs(stints: Sequence[Stint]) -> Iterator[tuple[Stint, Stint]]:
    in_order = sorted(stints, key=lambda stint: (stint.day, stint.start))
    return pairwise(in_order)


def _every_stage_gets_its_minutes(reading: _Reading) -> Iterator[Problem]:
    for stage in reading.workload.stages:
        worked = reading.worked(stage)
        if worked < stage.minutes:
            what = f"{stage.id} gets {worked} of its {stage.minutes} minutes."
            yield Problem(
                what,
                (stage.id,),
                "Look further ahead, or give it more working hours.",
                {"missing": stage.minutes - worked},
            )
        if worked > stage.minutes:
            yield Problem(f"{stage.id} gets {worked} minutes and needs {stage.minutes}.", (stage.id,))


def _one_person_a_day_on_a_stage(reading: _Reading) -> Iterator[Problem]:
    for name, stints in sorted(reading.stints.items()):
        for earlier, later in _pairs(stints):
            if earlier.day == later.day and earlier.person != later.person:
                yield Problem(
                    f"{earlier.person} and {later.person} are both on {name} on day {later.day}.", (name,)
                )


def _no_stint_is_too_short(reading: _Reading) -> Iterator[Problem]:
    for stage in reading.workload.stages:
        rest = stage.minutes
        for stint in reading.stints[stage.id]:
            if stint.minutes < min(stage.least, rest):
                yield Problem(
                    f"{stage.id} is taken up for only {stint.minutes} minutes on {_at(stint)}.", (stage.id,)
                )
            rest -= stint.minutes


def _stages_wait_until_ready(reading: _Reading) -> Iterator[Problem]:
    for stint in reading.timetable.stints:
        if stint.day < reading.stages[stint.stage].ready:
            yield Problem(f"{stint.stage} is worked on before it is ready.", (stint.stage,))


def _pinned_stages_keep_their_day(reading: _Reading) -> Iterator[Problem]:
    for stage in reading.workload.stages:
        if stage.pin is None:
            continue
        end = reading.end(stage)
        days = {stint.day for stint in reading.stints[stage.id]} | ({end[0]} if end else set())
        if days - {stage.pin}:
            what = f"{stage.id} is pinned to day {stage.pin} and is done on another."
            yield Problem(what, (stage.id,), "Free that day for it, or take the pin out.")


def _stages_wait_for_one_another(reading: _Reading) -> Iterator[Problem]:
    for wait in reading.workload.waits:
        stints = reading.stints[wait.after]
        if not stints:
            continue
        end = reading.end(reading.stages[wait.before])
        free = None if end is None else end if wait.days == 0 else (end[0] + wait.days, 0)
        if free is None or (stints[0].day, stints[0].start) < free:
            yield Problem(
                f"{wait.after} is begun before {wait.before} and its wait are over.",
                (wait.before, wait.after),
            )


def _no_work_on_a_closed_machine(reading: _Reading) -> Iterator[Problem]:
    closed = {machine.id: machine.closed for machine in reading.workload.machines}
    for stint in reading.timetable.stints:
        machine = reading.stages[stint.stage].machine
        if machine is not None and stint.day in closed[machine]:
            yield Problem(
                f"{machine} does not run on day {stint.day}, when {stint.stage} is on it.",
                (stint.stage, machine),
            )


def _no_more_on_a_machine_than_it_holds(reading: _Reading) -> Iterator[Problem]:
    """A stage keeps its machine from its first stint until it is finished, nights included."""
    for machine in reading.workload.machines:
        changes: list[tuple[Moment, int, str]] = []
        for stage in reading.workload.stages:
            if stage.machine == machine.id and reading.stints[stage.id]:
                first = reading.stints[stage.id][0]
                changes.append(((first.day, first.start), 1, stage.id))
                changes.append((reading.end(stage) or (reading.workload.days, 0), -1, stage.id))
        held: set[str] = set()
        for _, change, name in sorted(changes):
            held = held | {name} if change > 0 else held - {name}
            if len(held) > machine.units:
                yield Problem(f"{machine.id} is still taken when {name} goes on it.", tuple(sorted(held)))


def _finish_and_late_are_true(reading: _Reading) -> Iterator[Problem]:
    finish: dict[str, int] = {}
    for stage in reading.workload.stages:
        end = reading.end(stage)
        day = reading.workload.days if end is None else end[0]
        finish[stage.order] = max(day, finish.get(stage.order, 0))
    dues = {due.order: due.day for due in reading.workload.dues}
    for order, day in sorted(finish.items()):
        if reading.timetable.finish.get(order) != day:
            yield Problem(f"{order} finishes on day {day}, not as the timetable says.", (order,))
        if reading.timetable.late.get(order) != max(0, day - dues.get(order, day)):
            yield Problem(f"{order} is not as many days late as the timetable says.", (order,))
