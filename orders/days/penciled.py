"""Penciled places in a timetable: they take the hours that are free, and never one that a quilt needs."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace

from orders.days.calendar import PENCILED
from planner.schedule import Person, Stage, Stint, Timetable, Workload

Used = dict[tuple[str, int], int]


def without_penciled(work: Workload) -> Workload:
    """Return the workload of the quilts alone."""
    return replace(
        work,
        stages=tuple(stage for stage in work.stages if not stage.order.startswith(PENCILED)),
        dues=tuple(due for due in work.dues if not due.order.startswith(PENCILED)),
    )


def with_penciled(work: Workload, table: Timetable) -> Timetable:
    """Return the timetable with the penciled places poured into its free hours, the soonest wanted first."""
    due = {each.order: each.day for each in work.dues}
    penciled = [stage for stage in work.stages if stage.order.startswith(PENCILED)]
    penciled.sort(key=lambda stage: (due.get(stage.order, work.days), stage.order))
    used: Used = defaultdict(int)
    for stint in table.stints:
        used[stint.person, stint.day] = max(used[stint.person, stint.day], stint.start + stint.minutes)
    stints, finish, late = list(table.stints), dict(table.finish), dict(table.late)
    for stage in penciled:
        poured = _poured(stage, work, used)
        stints += poured
        done = sum(stint.minutes for stint in poured) == stage.minutes
        finish[stage.order] = poured[-1].day if done and poured else work.days
        if stage.order in due:
            late[stage.order] = max(0, finish[stage.order] - due[stage.order])
    return replace(table, stints=tuple(stints), finish=finish, late=late)


def _poured(stage: Stage, work: Workload, used: Used) -> list[Stint]:
    """Lay the stage into the rest of each day, with whoever has most of it left; `used` grows."""
    left, stints = stage.minutes, []
    people = [person for person in work.people if person.id in stage.people]
    for day in range(stage.ready, work.days):
        if not left or not people:
            break
        person = max(people, key=lambda each: _free(each, day, used))
        minutes = min(left, _free(person, day, used))
        if minutes > 0:
            start = max(person.opening(day), used[person.id, day])
            stints.append(Stint(stage.id, person.id, day, start, minutes))
            used[person.id, day] = start + minutes
            left -= minutes
    return stints


def _free(person: Person, day: int, used: Used) -> int:
    return person.closing(day) - max(person.opening(day), used[person.id, day])
