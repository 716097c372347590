"""The last day on which each stage can be begun before it costs a day."""

from __future__ import annotations

from collections.abc import Mapping

from planner.schedule.floor import DAY, Floor
from planner.schedule.windows import almanacs, tails
from planner.schedule.workload import Workload


def last_starts(workload: Workload) -> Mapping[str, int]:
    """Return the last day on which each stage can be begun for its order's due, by stage.

    Each order alone on its people's calendar, so that the real last day is no later; below 0 it is
    past. A stage that no due presses, or one beyond the days looked at, is left out.
    """
    floor = Floor(workload)
    books = almanacs(floor)
    dues = floor.days_by_order({due.order: due.day for due in workload.dues})
    days = {}
    for s, end in enumerate(tails(floor, books, dues)):
        if end is not None and end < floor.days * DAY:
            days[floor.stages[s].id] = books[floor.kind_of[s]].start(end, floor.effort[s]) // DAY
    return days
