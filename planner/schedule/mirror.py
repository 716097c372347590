"""The floor seen backwards, from the days asked for to today, where the latest times come to light."""

from __future__ import annotations

from collections.abc import Sequence

from planner.schedule.dispatch import Run, dispatch
from planner.schedule.floor import DAY, MIDNIGHT, Floor

EARLIER = 140  # days before the first that a plan made backwards may run into


class Mirror(Floor):
    """A floor whose last day comes first: what was due is ready, and each wait runs the other way."""

    def __init__(self, floor: Floor) -> None:
        self.floor, self.workload = floor, floor.workload
        self.days = floor.days + EARLIER
        self.opens = [[MIDNIGHT - minute for minute in _backwards(row)] for row in floor.closes]
        self.closes = [[MIDNIGHT - minute for minute in _backwards(row)] for row in floor.opens]
        self.closed = [frozenset(floor.days - 1 - day for day in days) for days in floor.closed]
        self.people, self.machines, self.units = floor.people, floor.machines, floor.units
        self.stages, self.number = floor.stages, floor.number
        self.effort, self.least = floor.effort, floor.least
        self.orders, self.order_of = floor.orders, floor.order_of
        self.kinds, self.kind_of = floor.kinds, floor.kind_of
        self.before, self.after = floor.after, floor.before
        self.in_turn = floor.in_turn[::-1]
        self.pin = [None if pin is None else floor.days - 1 - pin for pin in floor.pin]
        self.ready = [0] * len(floor.stages)

    def latest(self, days: Sequence[int | None], run: Run) -> list[int]:
        """Return when each stage starts, as an instant, if all is done as late as the days asked allow.

        What a plan finished last goes last here too, so that the two agree more with each turn.
        """
        last = self.floor.days - 1
        ends = [last if day is None else min(day, last) for day in days]
        self.ready = [
            last - ends[o] if pin is None else max(last - ends[o], pin)
            for o, pin in zip(self.order_of, self.pin, strict=True)
        ]
        never = self.floor.days * DAY
        back = dispatch(self, [-(never if instant < 0 else instant) for instant in run.done])
        return [self._instant(done) for done in back.done]

    def _instant(self, done: int) -> int:
        if done < 0:
            return -EARLIER * DAY
        day, minute = divmod(done, DAY)
        return (self.floor.days - 1 - day) * DAY + MIDNIGHT - minute


def _backwards(row: Sequence[int]) -> list[int]:
    return [*row[::-1], *(row[day % len(row)] for day in range(EARLIER))]
