"""Within a day, what is late or due at once comes first: nobody's days change, only the order in them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from planner.schedule.check import check_timetable
from planner.schedule.timetable import Stint, Timetable
from planner.schedule.workload import Workload

SOON = 1  # days
MORNINGS = (0, 1)


def urgent_first(workload: Workload, table: Timetable) -> Timetable:
    """Return the timetable with what is due by the next day first in everybody's day, today and tomorrow.

    A person's day stays as it was where another order of it would be a new fault to `check_timetable`.
    """
    order_of = {stage.id: stage.order for stage in workload.stages}
    for day in MORNINGS:
        urgent = {due.order for due in workload.dues if due.firm and due.day <= day + SOON}
        pressing = {stage for stage, order in order_of.items() if order in urgent}
        for person in workload.people:
            table = _if_sound(workload, table, _day(table.stints, day, person.id), pressing)
    return table


def _day(stints: Iterable[Stint], day: int, person: str) -> list[Stint]:
    mine = (stint for stint in stints if (stint.day, stint.person) == (day, person))
    return sorted(mine, key=lambda stint: stint.start)


def _if_sound(workload: Workload, table: Timetable, mine: list[Stint], pressing: set[str]) -> Timetable:
    turned = sorted(mine, key=lambda stint: stint.stage not in pressing)
    if turned == mine:
        return table
    moved, start = {}, mine[0].start
    for stint in turned:
        moved[stint] = replace(stint, start=start)
        start += stint.minutes
    stints = sorted((moved.get(stint, stint) for stint in table.stints), key=_moment)
    tried = replace(table, stints=tuple(stints))
    faults = check_timetable(workload, tried)
    return (
        tried if not faults or all(fault in check_timetable(workload, table) for fault in faults) else table
    )


def _moment(stint: Stint) -> tuple[int, int, str]:
    return stint.day, stint.start, stint.person
