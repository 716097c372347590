"""The search: better and better priorities, each judged by the plan the dispatcher makes of it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from random import Random

from planner.schedule.dispatch import Run, dispatch
from planner.schedule.floor import DAY, MIDNIGHT, Floor, finish_days
from planner.schedule.meter import Meter
from planner.schedule.windows import Tails

FULL_PULL = 8
NEAR = 6  # orders finished this many places apart are tried in the other's place
Cost = tuple[int, ...]


@dataclass(frozen=True)
class Urgency:
    """What makes stages press: days their orders and kinds are moved by, and how much tails count.

    With a `pull` of 8 eighths a stage presses by its own latest finish; with less, all stages of
    an order press nearly alike, so that whole orders go through one after the other.
    """

    orders: tuple[int, ...]
    kinds: tuple[int, ...]
    pull: int = FULL_PULL


@dataclass(frozen=True)
class Found:
    """A plan with what made it and what it costs."""

    cost: Cost
    finish: list[int]
    run: Run
    urgency: Urgency


@dataclass(frozen=True)
class Aim:
    """The days to finish by, by order number, and what a plan costs; the search ends at 0.

    With `weights`, by order number, what is light for its minutes is tried behind all the rest.
    """

    days: tuple[int | None, ...]
    cost: Callable[[Run, list[int]], Cost]
    weights: tuple[int, ...] = ()


class Ladder:
    """Keys for the dispatcher, made from the latest finish of every stage."""

    def __init__(self, floor: Floor, tails: Tails, days: Sequence[int | None]) -> None:
        self.floor = floor
        last = floor.days - 1
        self.due = [(last if day is None else day) * DAY + MIDNIGHT for day in days]
        filled = [last if day is None else day for day in days]
        self.latest = [
            self.due[floor.order_of[s]] if end is None else end for s, end in enumerate(tails.ends(filled))
        ]

    def keys(self, urgency: Urgency) -> list[int]:
        """Return the key of each stage."""
        floor = self.floor
        return [
            self.due[o]
            + urgency.pull * (end - self.due[o]) // FULL_PULL
            + (urgency.orders[o] + urgency.kinds[k]) * DAY
            for end, o, k in zip(self.latest, floor.order_of, floor.kind_of, strict=True)
        ]

    def follow(self, ranks: Sequence[int | None]) -> None:
        """Press in the order of an earlier timetable; stages it did not know keep their own place."""
        known = [s for s, rank in enumerate(ranks) if rank is not None]
        values = sorted(self.latest[s] for s in known)
        for s, value in zip(sorted(known, key=lambda s: (ranks[s], s)), values, strict=True):
            self.latest[s] = value


class Search:
    """One aim on one floor: tries priorities and keeps the best plan. `seen` is told of every plan."""

    def __init__(
        self,
        ladder: Ladder,
        aim: Aim,
        meter: Meter,
        rng: Random,
        *,
        seen: Callable[[Found], None] = lambda found: None,
    ) -> None:
        self.ladder, self.aim, self.meter, self.rng, self.seen = ladder, aim, meter, rng, seen
        self.floor = ladder.floor

    def plain(self, pull: int = FULL_PULL) -> Urgency:
        """Return the urgency that takes every day asked as it stands."""
        return Urgency((0,) * len(self.floor.orders), (0,) * len(self.floor.kinds), pull)

    def judge(self, urgency: Urgency) -> Found:
        """Return the plan that an urgency makes, with its cost: stages missed come first."""
        self.meter.used += 1
        run = dispatch(self.floor, self.ladder.keys(urgency))
        finish = finish_days(self.floor, run.done)
        found = Found((missed(self.floor, run), *self.aim.cost(run, finish)), finish, run, urgency)
        self.seen(found)
        return found

    def climb(self, start: Found, patience: int) -> Found:
        """Go on from a plan to ever better ones until `patience` tries in a row brought nothing."""
        here = best = start
        idle = 0
        while any(best.cost) and idle < patience and self.meter.goes_on():
            tried = self.judge(self._neighbour(here))
            idle += 1
            if tried.cost <= here.cost:
                here = tried
            if tried.cost < best.cost:
                best, idle = tried, 0
        return best

    def climb_in_turns(self, patience: int) -> Found:
        """Climb from the days as they stand, from whole orders in a row and from the best so far."""
        starts = [self.judge(self.plain())]
        best = starts[0]
        turn = 0
        while any(best.cost) and self.meter.goes_on():
            if turn == 0:
                starts.append(self.judge(self.plain(pull=1)))
                starts += [self.judge(way) for way in self._by_weight() if self.meter.goes_on()]
            start = (
                starts[turn // 2 % len(starts)]
                if turn % 2
                else min(best, *starts, key=lambda found: found.cost)
            )
            best = min(best, self.climb(start, patience), key=lambda found: found.cost)
            turn += 1
        return best

    def _by_weight(self) -> list[Urgency]:
        """Return urgencies between the days asked and the most weight for the least minutes first.

        Where nearly all is late anyway that is the best order (W. E. Smith 1956).
        """
        if not self.aim.weights:
            return []
        turns = self._days_of_weight_first()
        own = [due // DAY for due in self.ladder.due]
        return [
            replace(
                self.plain(),
                orders=tuple((day - at) * part // 4 for day, at in zip(turns, own, strict=True)),
            )
            for part in (4, 2, 3, 1)
        ]

    def _days_of_weight_first(self) -> list[int]:
        """Return about when each order would be done if weight for minutes were all that counted."""
        floor = self.floor
        effort = [1] * len(floor.orders)
        for s, minutes in enumerate(floor.effort):
            effort[floor.order_of[s]] += minutes
        hours = sum(sum(row) for row in floor.closes) - sum(sum(row) for row in floor.opens)
        lightest_last = sorted(range(len(effort)), key=lambda o: (-self.aim.weights[o] / effort[o], o))
        days, spent = [0] * len(effort), 0
        for o in lightest_last:
            spent += effort[o]
            days[o] = spent * floor.days // max(1, hours)
        return days

    def _neighbour(self, found: Found) -> Urgency:
        rng, urgency = self.rng, found.urgency
        late = [o for o, aim in enumerate(self.aim.days) if aim is not None and found.finish[o] > aim]
        way = rng.random()
        if way < 0.1 and len(urgency.kinds) > 1:
            kinds = list(urgency.kinds)
            kinds[rng.randrange(len(kinds))] += rng.choice((-7, -3, -1, 1, 3, 7))
            return replace(urgency, kinds=tuple(kinds))
        if way < 0.15:
            return replace(urgency, pull=rng.choice((0, 1, 4, 6, FULL_PULL)))
        o = rng.choice(late) if late and way < 0.65 else rng.randrange(len(urgency.orders))
        orders = list(urgency.orders)
        if way < 0.35 or way > 0.85:
            orders[o] = self._beside(urgency, o, self._somebody_near(found, o))
        elif way < 0.6:
            orders[o] -= rng.randint(1, 1 + max(12, found.finish[o] - (self.aim.days[o] or 0)))
        elif way < 0.65:
            orders[o] += rng.randint(5, 60)
        else:
            orders[o] += rng.choice((-1, 1, 1)) * rng.randint(1, 12)
        return replace(urgency, orders=tuple(orders))

    def _somebody_near(self, found: Found, o: int) -> int:
        """Return an order that is finished not long before or after another, or now and then any."""
        n = len(found.finish)
        if self.rng.random() < 0.6:
            return self.rng.randrange(n)
        in_turn = sorted(range(n), key=lambda other: (found.finish[other], other))
        place = in_turn.index(o) + self.rng.choice((-1, 1)) * self.rng.randint(1, NEAR)
        return in_turn[min(max(place, 0), n - 1)]

    def _beside(self, urgency: Urgency, o: int, other: int) -> int:
        """Return the days by which an order must move to press just before or just after another."""
        due = self.ladder.due
        return urgency.orders[other] + (due[other] - due[o]) // DAY + self.rng.choice((-1, 1))


def missed(floor: Floor, run: Run) -> int:
    """Return how many stages are not finished, or not done on the day they are pinned to."""
    return sum(instant < 0 for instant in run.done) + strayed(floor, run)


def strayed(floor: Floor, run: Run) -> int:
    """Return how many stages are done on another day than the one they are pinned to."""
    if not any(pin is not None for pin in floor.pin):
        return 0
    astray = {s for s, _, day, _, _ in run.stints if floor.pin[s] is not None and day != floor.pin[s]}
    astray |= {
        s
        for s, pin in enumerate(floor.pin)
        if pin is not None and run.done[s] >= 0 and run.done[s] // DAY != pin
    }
    return len(astray)


def days_late(finish: Sequence[int], days: Sequence[int | None], weights: Sequence[int]) -> int:
    """Return the weighted days by which orders finish after the days given."""
    return sum(
        weight * (end - day)
        for end, day, weight in zip(finish, days, weights, strict=True)
        if day is not None and end > day
    )
