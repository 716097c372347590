"""The search for the earliest day of one order among others that keep theirs.

Each order gets a day to press by, at first its own. From these days the latest times follow, and from
the latest times the order in which stages are taken up. The search moves the days and keeps what makes
fewer orders late and the new one earlier. Now and then a plan is made backwards from the days as well
(forward and backward passes: common practice in project scheduling), and where several people work,
every other plan lets a pressing stage break in on others.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from random import Random

from planner.schedule.climb import Ladder, strayed
from planner.schedule.dispatch import Run, dispatch
from planner.schedule.floor import Floor, finish_days
from planner.schedule.meter import Meter
from planner.schedule.mirror import Mirror
from planner.schedule.restless import dispatch_restlessly
from planner.schedule.windows import almanacs

PATIENCE = 12
BACKWARDS = 0.3
HASTES = (0, 0, 400, 400, 30, 30)  # days by which the new order presses before the day it is to reach
NOT_DONE = 200  # days late that an unfinished stage counts for
RESTLESS_STEPS = 3
Days = tuple[int | None, ...]


@dataclass(frozen=True)
class Try:
    """A plan with the days that orders were pressed by, and by how many days it misses what is asked."""

    days: Days
    run: Run
    finish: list[int]
    off: int


class Quest:
    """The search for one order by number, while the others keep `days`.

    So many stages as `left_open` need not be finished before the days looked at end.
    """

    def __init__(self, floor: Floor, order: int, days: Sequence[int | None], left_open: int) -> None:
        self.floor, self.order, self.days = floor, order, tuple(days)
        self.books = almanacs(floor)
        self.mirror = Mirror(floor)
        self.left_open = left_open

    def search(
        self,
        span: Callable[[], tuple[int, int]],
        seen: Callable[[Run, list[int]], None],
        meter: Meter,
        rng: Random,
    ) -> None:
        """Look for plans until the limit is used up or nothing earlier is possible.

        `span` gives the first day not ruled out and the best day found; `seen` hears of every plan.
        """
        self.seen, self.meter, self.rng, self.span = seen, meter, rng, span
        turn = 0
        while self._goes_on():
            self._probe(self._goal(turn), turn)
            turn += 1

    def _goes_on(self) -> bool:
        first, best = self.span()
        return best > first and self.meter.goes_on()

    def _goal(self, turn: int) -> int:
        """Return a day to try for: the first not ruled out, any, or one just before the best."""
        first, best = self.span()
        if turn < 6 or self.rng.random() < 0.3:
            return first
        if self.rng.random() < 0.5:
            return self.rng.randint(first, best - 1)
        return max(first, best - 1 - int(self.rng.expovariate(1 / 3)))

    def _probe(self, goal: int, turn: int) -> None:
        """Climb until nobody is late and the new order reaches its goal, or nothing helps any more."""
        several = len(self.floor.people) > 1
        make = dispatch_restlessly if several and turn % 2 else dispatch
        haste = HASTES[turn % len(HASTES)] if several else 0
        days = tuple(goal - haste if o == self.order else day for o, day in enumerate(self.days))
        here = self._judge(self._forwards(days), days, goal, make)
        if here.off and self._goes_on():
            here = min(here, self._judge(self._backwards(days, here.run), days, goal, make), key=_off)
        idle = 0
        while here.off and idle < PATIENCE and self._goes_on():
            days = self._neighbour(here, goal)
            way = self.rng.random()
            keys = self._backwards(days, here.run) if way < BACKWARDS else self._forwards(days)
            tried = self._judge(keys, days, goal, make)
            idle = 0 if tried.off < here.off else idle + 1
            here = tried if tried.off <= here.off else here

    def _forwards(self, days: Days) -> list[int]:
        return Ladder(self.floor, self.books, days).latest

    def _backwards(self, days: Days, run: Run) -> list[int]:
        self.meter.used += 1
        return self.mirror.latest(days, run)

    def _judge(
        self, keys: Sequence[int], days: Days, goal: int, make: Callable[[Floor, Sequence[int]], Run]
    ) -> Try:
        self.meter.used += 1 if make is dispatch else RESTLESS_STEPS
        run = make(self.floor, keys)
        finish = finish_days(self.floor, run.done)
        self.seen(run, finish)
        late = sum(
            end - day for end, day in zip(finish, self.days, strict=True) if day is not None and end > day
        )
        open_ones = sum(instant < 0 for instant in run.done) - self.left_open
        off = late + max(0, finish[self.order] - goal) + NOT_DONE * max(0, open_ones)
        return Try(days, run, finish, off + NOT_DONE * strayed(self.floor, run))

    def _neighbour(self, here: Try, goal: int) -> Days:
        """Return other days to press by: earlier for what is late, or anything for a few orders."""
        rng, days = self.rng, list(here.days)
        asked = [goal if o == self.order else day for o, day in enumerate(self.days)]
        late = [
            (o, end - day)
            for o, (end, day) in enumerate(zip(here.finish, asked, strict=True))
            if day is not None and end > day
        ]
        way = rng.random()
        if late and way < 0.45:
            for o, by in late:
                if rng.random() < 0.6:
                    days[o] = (days[o] or 0) - rng.randint(1, 2 + 2 * min(10, by))
        elif late and way < 0.7:
            o, _ = rng.choice(late)
            days[o] = (days[o] or 0) - rng.randint(1, 12)
        else:
            for _ in range(rng.randint(1, 3)):
                o = rng.randrange(len(days))
                day = days[o]
                if day is not None:
                    days[o] = day + rng.choice((-1, 1, 1)) * rng.randint(1, 10)
        return tuple(days)


def _off(tried: Try) -> int:
    return tried.off
