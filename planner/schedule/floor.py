"""The workload laid out by number, sorted by id, as the engines of this package want it.

An instant is `day * DAY + minute`. DAY is longer than a real day, so that the last minute of one
day (1440) is never mistaken for the first of the next.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from planner.schedule.timetable import Stint, Timetable
from planner.schedule.workload import MINUTES_IN_A_DAY, Stage, Workload

DAY = 2048
MIDNIGHT = MINUTES_IN_A_DAY
StintRow = tuple[int, int, int, int, int]  # stage, person, day, start, minutes


@dataclass(frozen=True)
class Kind:
    """Stages that the same people do on the same machine; people and machine by number."""

    people: tuple[int, ...]
    machine: int | None


class Floor:
    """A workload by number: `before` and `after` hold (stage, days of waiting) pairs."""

    def __init__(self, workload: Workload) -> None:
        self.workload = workload
        self.days = workload.days
        self._number_people_and_machines()
        self._number_stages()
        self._number_waits()

    def _number_people_and_machines(self) -> None:
        people = sorted(self.workload.people, key=lambda person: person.id)
        self.people = tuple(person.id for person in people)
        self.opens = [[person.opening(day) for day in range(self.days)] for person in people]
        self.closes = [[person.closing(day) for day in range(self.days)] for person in people]
        machines = sorted(self.workload.machines, key=lambda machine: machine.id)
        self.machines = tuple(machine.id for machine in machines)
        self.units = [machine.units for machine in machines]
        self.closed = [machine.closed for machine in machines]

    def _number_stages(self) -> None:
        self.stages = tuple(sorted(self.workload.stages, key=lambda stage: stage.id))
        self.number = {stage.id: s for s, stage in enumerate(self.stages)}
        self.effort = [stage.minutes for stage in self.stages]
        self.least = [stage.least for stage in self.stages]
        self.pin = [stage.pin for stage in self.stages]
        self.ready = [max(stage.ready, stage.pin or 0) for stage in self.stages]
        self.orders = tuple(sorted({stage.order for stage in self.stages}))
        by_order = {order: o for o, order in enumerate(self.orders)}
        self.order_of = [by_order[stage.order] for stage in self.stages]
        kinds = [self._kind(stage) for stage in self.stages]
        self.kinds = tuple(
            sorted(set(kinds), key=lambda kind: (kind.people, kind.machine or 0, kind.machine is None))
        )
        by_kind = {kind: k for k, kind in enumerate(self.kinds)}
        self.kind_of = [by_kind[kind] for kind in kinds]

    def _kind(self, stage: Stage) -> Kind:
        people = tuple(sorted(self.people.index(name) for name in stage.people))
        return Kind(people, None if stage.machine is None else self.machines.index(stage.machine))

    def _number_waits(self) -> None:
        longest: dict[tuple[int, int], int] = {}
        for wait in self.workload.waits:
            pair = self.number[wait.before], self.number[wait.after]
            longest[pair] = max(longest.get(pair, 0), wait.days)
        self.before: list[list[tuple[int, int]]] = [[] for _ in self.stages]
        self.after: list[list[tuple[int, int]]] = [[] for _ in self.stages]
        for (earlier, later), days in sorted(longest.items()):
            self.after[earlier].append((later, days))
            self.before[later].append((earlier, days))
        missing = [len(earlier) for earlier in self.before]
        self.in_turn = [s for s, count in enumerate(missing) if not count]
        for s in self.in_turn:
            for later, _ in self.after[s]:
                missing[later] -= 1
                if not missing[later]:
                    self.in_turn.append(later)

    def days_by_order(self, days: Mapping[str, int]) -> list[int | None]:
        """Return the day of each order by number; None where none is given."""
        return [days.get(order) for order in self.orders]

    def runs(self, kind: Kind, day: int) -> bool:
        """Return whether the machine of this kind of work, if any, runs on a day."""
        return kind.machine is None or day not in self.closed[kind.machine]

    def timetable(self, stints: Iterable[StintRow], done: list[int], keys: list[int]) -> Timetable:
        """Return the timetable of stints by number; `done` holds the finishing instants."""
        finish = finish_days(self, done)
        dues = {due.order: due.day for due in self.workload.dues}
        in_turn = sorted(range(len(keys)), key=lambda s: (keys[s], s))
        rows = sorted(stints, key=lambda row: (row[2], row[3], row[1], row[0]))
        return Timetable(
            stints=tuple(
                Stint(self.stages[s].id, self.people[p], day, start, minutes)
                for s, p, day, start, minutes in rows
            ),
            finish=dict(zip(self.orders, finish, strict=True)),
            late={o: max(0, day - dues.get(o, day)) for o, day in zip(self.orders, finish, strict=True)},
            priority={self.stages[s].id: rank for rank, s in enumerate(in_turn)},
        )


def finish_days(floor: Floor, done: list[int]) -> list[int]:
    """Return the day each order finishes; the first day after the horizon if it does not."""
    finish = [0] * len(floor.orders)
    for s, instant in enumerate(done):
        day = floor.days if instant < 0 else instant // DAY
        if day > finish[floor.order_of[s]]:
            finish[floor.order_of[s]] = day
    return finish


def moment_after(instant: int, days: int) -> int:
    """Return when work may go on that waits `days` days for something finished at an instant."""
    return instant if days == 0 else (instant // DAY + days) * DAY
