"""Until when an order can wait to be begun, and still be ready by its day with nobody the worse for it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from planner.schedule.climb import Ladder, strayed
from planner.schedule.dispatch import dispatch
from planner.schedule.floor import Floor, finish_days
from planner.schedule.promise import Promise
from planner.schedule.windows import Tails
from planner.schedule.workload import NewOrder, Workload, with_order


def last_day_to_begin(
    workload: Workload, new: NewOrder, promised: Promise, *, by: int, most: int
) -> int | None:
    """Return the last day found, 0 to `most`, on which a promised order can be begun and be ready `by`
    its day; None where none was found.

    All others keep their dues, or their day in the timetable promised where that is later. No search:
    a day is tried by one plan or two, the last one first, then by halving. A day that is returned was
    seen to fit; a later one may fit as well.
    """
    trial = _Trial(workload, new, promised, by)
    if most < 0 or not trial.fits(0):
        return None
    if trial.fits(most):
        return most
    fits, too_late = 0, most
    while too_late - fits > 1:
        middle = (fits + too_late) // 2
        fits, too_late = (middle, too_late) if trial.fits(middle) else (fits, middle)
    return fits


class _Trial:
    """An order begun later and later beside the same work."""

    def __init__(self, workload: Workload, new: NewOrder, promised: Promise, by: int) -> None:
        self.workload, self.new, self.promised = workload, new, promised
        self.floor = Floor(with_order(workload, new))
        self.days = self._days(by)
        ranks = promised.timetable.priority
        self.ways: list[Sequence[int]] = [
            Ladder(self.floor, Tails(self.floor), self.days).latest,
            [ranks[stage.id] for stage in self.floor.stages],
        ]

    def _days(self, by: int) -> list[int | None]:
        dues = {due.order: due.day for due in self.workload.dues}
        reached = self.promised.timetable.finish
        kept = {order: max(day, reached.get(order, day)) for order, day in dues.items()}
        return self.floor.days_by_order(kept | {self.new.due.order: by})

    def fits(self, day: int) -> bool:
        """Return whether one of the ways keeps all days when the order is begun on a day or later."""
        later = tuple(replace(stage, ready=max(stage.ready, day)) for stage in self.new.stages)
        floor = Floor(with_order(self.workload, replace(self.new, stages=later)))
        return any(self._keeps(floor, keys) for keys in self.ways)

    def _keeps(self, floor: Floor, keys: Sequence[int]) -> bool:
        run = dispatch(floor, keys)
        if strayed(floor, run) or any(instant < 0 for instant in run.done):
            return False
        finish = finish_days(floor, run.done)
        return all(day is None or end <= day for end, day in zip(finish, self.days, strict=True))
