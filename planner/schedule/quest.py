"""The search for the earliest day of one order among others that keep theirs.

Each order gets a day to press by, at first its own. From these days the latest times follow, and from
the latest times the order in which stages are taken up. The search moves the days and keeps what makes
fewer orders late and the new one earlier. Now and then a plan is made backwards from the days as well
(forward and backward passes: common practice in project scheduling), and where several people work,
every other plan lets a pressing stage break in on others.

Which days can be kept is not in one piece: a day may fit when a later one was not found. So days all over
the span are tried first, and the climbs go on from what came nearest; each day reached is followed by an
earlier one to reach.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from random import Random

from planner.schedule.climb import Ladder, strayed
from planner.schedule.dispatch import Patience, Run, dispatch
from planner.schedule.floor import DAY, Floor, finish_days
from planner.schedule.meter import Meter
from planner.schedule.mirror import Mirror
from planner.schedule.restless import dispatch_restlessly
from planner.schedule.windows import Tails

PATIENCE = 12
BACKWARDS = 0.3
HASTES = (0, 0, 400, 400, 30, 30)  # days by which the new order presses before the day it is to reach
NOT_DONE = 200  # days late that an unfinished stage counts for
RESTLESS_STEPS = 3
SCANNED = 12  # days tried at a time, all over the span
SCAN_EVERY = 2
GOES_ON = 3  # climbs from tries of before, after each that begins anew
TIRED = 2  # days that a try counts as further off for each climb that brought it no further
STRIDE = 8  # a reached day is followed by one about this part of the span earlier
Days = tuple[int | None, ...]
Make = Callable[[Floor, Sequence[int], Patience | None], Run]


@dataclass(frozen=True)
class Try:
    """A plan with the days that orders were pressed by, and by how many days it misses what is asked.

    `base` holds the latest instants that the days move, where they are not those of the days themselves;
    `rests` counts the climbs from it that brought it no further.
    """

    days: Days
    run: Run
    finish: list[int]
    goal: int
    off: int
    base: tuple[int, ...] | None = None
    rests: int = 0


class Quest:
    """The search for one order by number, while the others keep `days`.

    So many stages as `left_open` need not be finished before the days looked at end. `standing` holds
    instants in the order of which a plan without the new order keeps all days, where one was searched for.
    """

    def __init__(
        self,
        floor: Floor,
        order: int,
        days: Sequence[int | None],
        *,
        left_open: int,
        standing: Sequence[int] | None = None,
    ) -> None:
        self.floor, self.order, self.days = floor, order, tuple(days)
        self.tails = Tails(floor)
        self.mirror = Mirror(floor)
        self.left_open = left_open
        self.bases = (None,) if standing is None else (None, tuple(standing))

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
        self.tries: list[Try] = []
        turn = 0
        while self._goes_on():
            self._probe(self._goal(turn), turn)
            if turn % SCAN_EVERY == 0:
                self._scan(turn // SCAN_EVERY)
            for n in range(GOES_ON):
                if self.tries and self._goes_on():
                    self._go_on_from(self._promising(), turn + n)
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

    def _scan(self, turn: int) -> None:
        """Try days all over the span, earliest first: what fits is not in one piece."""
        first, best = self.span()
        base = self.bases[-1 - turn // 2 % len(self.bases)]
        make = dispatch_restlessly if len(self.floor.people) > 1 and turn % 2 else dispatch
        for n in range(1, SCANNED + 1):
            goal = first + (best - 1 - first) * n // SCANNED
            if not self._goes_on() or goal >= self.span()[1]:
                return
            self._remember(self._first_try(goal, goal, make, base))

    def _pressing(self, day: int) -> Days:
        return tuple(day if o == self.order else own for o, own in enumerate(self.days))

    def _remember(self, tried: Try) -> None:
        self.tries.append(tried)

    def _promising(self) -> Try:
        """Return one of the tries that no other beats both in its day and in what it misses."""
        best = self.span()[1]
        self.tries = [t for t in self.tries if t.goal < best] or self.tries[-1:]
        chosen = min(self.tries, key=lambda t: (t.off + TIRED * t.rests, t.goal))
        self.tries.remove(chosen)
        return chosen

    def _probe(self, goal: int, turn: int) -> None:
        """Climb until nobody is late and the new order reaches its goal, or nothing helps any more."""
        several = len(self.floor.people) > 1
        make = dispatch_restlessly if several and turn % 2 else dispatch
        haste = HASTES[turn % len(HASTES)] if several else 0
        here = self._first_try(goal - haste, goal, make, self.bases[turn // 2 % len(self.bases)])
        if here.off and self._goes_on():
            back = self._judge(self._backwards(here.days, here.run), here.days, goal, make)
            here = min(here, replace(back, base=here.base), key=_off)
        self._climb(here, make)

    def _first_try(self, day: int, goal: int, make: Make, base: tuple[int, ...] | None) -> Try:
        """Return the plan in which the new order presses by a day, and all others by their own."""
        days = self._pressing(day)
        return replace(self._judge(self._forwards(days, base), days, goal, make), base=base)

    def _go_on_from(self, here: Try, turn: int) -> None:
        make = dispatch_restlessly if len(self.floor.people) > 1 and here.rests % 2 else dispatch
        self._climb(here, make)

    def _climb(self, here: Try, make: Make) -> None:
        idle, least = 0, here.off
        while idle < PATIENCE and self._goes_on():
            if not here.off and here.goal <= self.span()[0]:
                return  # reached, yet at the cost of something unfinished
            if not here.off:
                here = self._lower(here)
                least = here.off
            days = self._neighbour(here, here.goal)
            way = self.rng.random()
            keys = self._backwards(days, here.run) if way < BACKWARDS else self._forwards(days, here.base)
            tried = self._judge(keys, days, here.goal, make, most=here.off)
            idle = 0 if tried.off < least else idle + 1
            least = min(least, tried.off)
            here = replace(tried, base=here.base, rests=here.rests) if tried.off <= here.off else here
        self._remember(replace(here, rests=here.rests + 1))

    def _lower(self, here: Try) -> Try:
        """Return a try that has reached its day with an earlier day to reach."""
        first, best = self.span()
        last = min(here.finish[self.order], best) - 1
        day = max(first, last - int(self.rng.expovariate(STRIDE / max(1, 1 + last - first))))
        days = tuple(
            (own or 0) + day - here.goal if o == self.order else own for o, own in enumerate(here.days)
        )
        return replace(here, goal=day, days=days, off=here.finish[self.order] - day)

    def _forwards(self, days: Days, base: tuple[int, ...] | None) -> list[int]:
        latest = Ladder(self.floor, self.tails, days).latest
        if base is None:
            return latest
        moved = [
            0 if day is None or own is None else (day - own) * DAY
            for day, own in zip(days, self.days, strict=True)
        ]
        return [
            latest[s] if o == self.order else base[s] + moved[o] for s, o in enumerate(self.floor.order_of)
        ]

    def _backwards(self, days: Days, run: Run) -> list[int]:
        self.meter.used += 1
        return self.mirror.latest(days, run)

    def _judge(
        self, keys: Sequence[int], days: Days, goal: int, make: Make, *, most: int | None = None
    ) -> Try:
        self.meter.used += 1 if make is dispatch else RESTLESS_STEPS
        asked = self._pressing(goal)
        run = make(self.floor, keys, None if most is None else Patience(self.floor, asked, most))
        finish = finish_days(self.floor, run.done)
        self.seen(run, finish)
        late = sum(
            end - day for end, day in zip(finish, self.days, strict=True) if day is not None and end > day
        )
        open_ones = sum(instant < 0 for instant in run.done) - self.left_open
        off = late + max(0, finish[self.order] - goal) + NOT_DONE * max(0, open_ones)
        return Try(days, run, finish, goal, off + NOT_DONE * strayed(self.floor, run))

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
