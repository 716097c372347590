"""What is on the calendar: people, machines, days asked for, stages and the waits between them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date

from planner.problems import BadInput

MINUTES_IN_A_DAY = 1440


@dataclass(frozen=True)
class Person:
    """Somebody who works: `minutes` at work and `opens`, the minute of the day work starts, per day.

    Both run from the origin of the workload; an empty `opens` means minute 0 on every day.
    """

    id: str
    minutes: tuple[int, ...]
    opens: tuple[int, ...] = ()

    def __post_init__(self) -> None:
        if self.opens and len(self.opens) != len(self.minutes):
            raise BadInput(
                "opens",
                f"{self.id} has {len(self.minutes)} days of minutes but {len(self.opens)} opening times.",
            )
        for day, minutes in enumerate(self.minutes):
            if minutes < 0:
                raise BadInput(
                    f"minutes[{day}]", f"{self.id} cannot work {minutes} minutes; use 0 for a day off."
                )
            if self.opening(day) < 0:
                raise BadInput(f"opens[{day}]", f"the day of {self.id} cannot start before midnight.")
            if self.opening(day) + minutes > MINUTES_IN_A_DAY:
                raise BadInput(f"minutes[{day}]", f"the day of {self.id} would end after midnight.")

    def opening(self, day: int) -> int:
        """Return the minute of the day at which this person starts."""
        return self.opens[day] if self.opens else 0

    def closing(self, day: int) -> int:
        """Return the minute of the day at which this person stops."""
        return self.opening(day) + self.minutes[day]


@dataclass(frozen=True)
class Machine:
    """A quilting frame or the like: how many there are, and the day indexes on which none runs."""

    id: str
    units: int = 1
    closed: frozenset[int] = frozenset()

    def __post_init__(self) -> None:
        if self.units < 1:
            raise BadInput("units", f"there must be at least one {self.id}; leave the machine out otherwise.")


@dataclass(frozen=True)
class Due:
    """The last day on which work on an order may finish; not `firm` means pencilled in."""

    order: str
    day: int
    weight: int = 1
    firm: bool = True
    target: int | None = None

    def __post_init__(self) -> None:
        if self.weight < 0:
            raise BadInput("weight", f"the weight of order {self.order} must be 0 or more.")


@dataclass(frozen=True)
class Wait:
    """`after` may start once `before` is finished: at once (0), or from the start of the n-th day after."""

    before: str
    after: str
    days: int = 0
    spread: float = 0

    def __post_init__(self) -> None:
        if self.days < 0:
            raise BadInput("days", f"the wait between {self.before} and {self.after} cannot be below 0 days.")
        if self.spread < 0:
            raise BadInput("spread", f"the spread of the wait after {self.before} cannot be below 0.")
        if self.before == self.after:
            raise BadInput("after", f"{self.before} cannot wait for itself.")


@dataclass(frozen=True)
class Stage:
    """A piece of work that one person does at a time: its minutes left and who may do it.

    It may be laid down and taken up on another day. `ready` is the first day it may be worked on,
    `pin` the one day it must be done on, `least` the shortest stint worth sitting down for.
    """

    id: str
    order: str
    kind: str
    minutes: int
    people: tuple[str, ...]
    machine: str | None = None
    ready: int = 0
    pin: int | None = None
    least: int = 0
    spread: float = 0.3

    def __post_init__(self) -> None:
        if self.minutes < 0:
            raise BadInput("minutes", f"stage {self.id} cannot take {self.minutes} minutes.")
        if self.minutes and not self.people:
            raise BadInput(
                "people", f"nobody may do stage {self.id} ({self.kind}) of order {self.order}; name somebody."
            )
        if len(set(self.people)) != len(self.people):
            raise BadInput("people", f"stage {self.id} names the same person twice.")
        if self.ready < 0:
            raise BadInput("ready", f"stage {self.id} cannot be ready before the first day; use 0.")
        if self.least < 0 or self.spread < 0:
            raise BadInput("least" if self.least < 0 else "spread", f"stage {self.id} needs 0 or more here.")


@dataclass(frozen=True)
class Workload:
    """Everything that is to be done in `days` days from `origin`, and who is there to do it."""

    origin: date
    days: int
    people: tuple[Person, ...]
    machines: tuple[Machine, ...]
    dues: tuple[Due, ...]
    stages: tuple[Stage, ...]
    waits: tuple[Wait, ...]

    def __post_init__(self) -> None:
        if self.days < 1:
            raise BadInput("days", "look at least one day ahead.")
        _no_id_twice("people", (person.id for person in self.people))
        _no_id_twice("machines", (machine.id for machine in self.machines))
        _no_id_twice("stages", (stage.id for stage in self.stages))
        _no_id_twice("dues", (due.order for due in self.dues))
        _minutes_for_every_day(self)
        _stages_name_known_people_machines_and_days(self)
        _waits_name_known_stages(self)
        _no_waiting_in_a_circle(self)

    def date_of(self, day: int) -> date:
        """Return the date of a day index."""
        return date.fromordinal(self.origin.toordinal() + day)


@dataclass(frozen=True)
class NewOrder:
    """An order a customer is asking for: the day she wants it, its stages, its waits."""

    due: Due
    stages: tuple[Stage, ...]
    waits: tuple[Wait, ...]

    def __post_init__(self) -> None:
        if not self.stages:
            raise BadInput(
                "stages", f"order {self.due.order} has no work in it, so there is nothing to promise."
            )
        for place, stage in enumerate(self.stages):
            if stage.order != self.due.order:
                raise BadInput(
                    f"stages[{place}].order",
                    f"stage {stage.id} belongs to {stage.order}, not {self.due.order}.",
                )


def with_order(workload: Workload, new: NewOrder) -> Workload:
    """Return the workload with a new order added."""
    taken = {stage.order for stage in workload.stages} | {due.order for due in workload.dues}
    if new.due.order in taken:
        raise BadInput("new.due.order", f"order {new.due.order} is in the workload already.")
    return replace(
        workload,
        dues=(*workload.dues, new.due),
        stages=(*workload.stages, *new.stages),
        waits=(*workload.waits, *new.waits),
    )


def without_pencilled(workload: Workload) -> Workload:
    """Return the workload with only what is paid, and whatever a paid order waits for."""
    order_of = {stage.id: stage.order for stage in workload.stages}
    pencilled = {due.order for due in workload.dues if not due.firm}
    while needed := {
        order_of[wait.before]
        for wait in workload.waits
        if order_of[wait.before] in pencilled and order_of[wait.after] not in pencilled
    }:
        pencilled -= needed
    return replace(
        workload,
        dues=tuple(due for due in workload.dues if due.order not in pencilled),
        stages=tuple(stage for stage in workload.stages if stage.order not in pencilled),
        waits=tuple(wait for wait in workload.waits if order_of[wait.after] not in pencilled),
    )


def _no_id_twice(field: str, ids: Iterable[str]) -> None:
    seen: set[str] = set()
    for name in ids:
        if name in seen:
            raise BadInput(field, f"{name} is named twice.")
        seen.add(name)


def _minutes_for_every_day(workload: Workload) -> None:
    for place, person in enumerate(workload.people):
        if len(person.minutes) < workload.days:
            raise BadInput(
                f"people[{place}].minutes",
                f"{person.id} has minutes for {len(person.minutes)} of the {workload.days} days looked at.",
            )


def _stages_name_known_people_machines_and_days(workload: Workload) -> None:
    people = {person.id for person in workload.people}
    machines = {machine.id for machine in workload.machines}
    for place, stage in enumerate(workload.stages):
        for name in stage.people:
            if name not in people:
                raise BadInput(
                    f"stages[{place}].people",
                    f"stage {stage.id} may be done by {name}, who is not among the people.",
                )
        if stage.machine is not None and stage.machine not in machines:
            raise BadInput(
                f"stages[{place}].machine",
                f"stage {stage.id} needs {stage.machine}, which is not among the machines.",
            )
        if stage.pin is not None and not 0 <= stage.pin < workload.days:
            raise BadInput(
                f"stages[{place}].pin",
                f"stage {stage.id} is pinned to a day outside the {workload.days} days looked at.",
            )


def _waits_name_known_stages(workload: Workload) -> None:
    known = {stage.id for stage in workload.stages}
    for place, wait in enumerate(workload.waits):
        for field, name in (("before", wait.before), ("after", wait.after)):
            if name not in known:
                raise BadInput(f"waits[{place}].{field}", f"there is no stage {name}.")


def _no_waiting_in_a_circle(workload: Workload) -> None:
    before: dict[str, list[str]] = {stage.id: [] for stage in workload.stages}
    for wait in workload.waits:
        before[wait.after].append(wait.before)
    open_ones = {name: set(names) for name, names in before.items()}
    free = [name for name, names in open_ones.items() if not names]
    after: dict[str, list[str]] = {name: [] for name in before}
    for wait in workload.waits:
        after[wait.before].append(wait.after)
    while free:
        done = free.pop()
        del open_ones[done]
        for name in after[done]:
            if name in open_ones and done in open_ones[name]:
                open_ones[name].discard(done)
                if not open_ones[name]:
                    free.append(name)
    if open_ones:
        raise BadInput(
            "waits", f"these stages wait for one another in a circle: {', '.join(_circle(open_ones))}."
        )


def _circle(waiting: Mapping[str, set[str]]) -> list[str]:
    walked: list[str] = [min(waiting)]
    while True:
        earlier = min(name for name in waiting[walked[-1]] if name in waiting)
        if earlier in walked:
            return walked[walked.index(earlier) :][::-1]
        walked.append(earlier)
