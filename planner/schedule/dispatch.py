"""The dispatcher: at each moment somebody is free, the most pressing stage she may do is taken up.

Nobody idles while there is work for her. A stage is laid down only at the end of a person's day,
and a machine stays with its stage from the first stint until the stage is finished.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush

from planner.schedule.floor import DAY, Floor, StintRow, moment_after

PINNED = -(1 << 50)


@dataclass(frozen=True)
class Run:
    """What one dispatch gave: the stints, and when each stage was finished (-1: not in time)."""

    stints: list[StintRow]
    done: list[int]
    keys: list[int]


class Patience:
    """How many days late, in all, a plan may become before it is given up; days by order number."""

    def __init__(self, floor: Floor, days: Sequence[int | None], most: int) -> None:
        self.most = most
        self.late = 0
        self.days = [floor.days if day is None else day for day in days]

    def lose(self, order: int, day: int) -> None:
        """Note that an order is not finished before a day that is later than its own."""
        self.late += day - self.days[order]
        self.days[order] = day


def dispatch(floor: Floor, keys: Sequence[int], patience: Patience | None = None) -> Run:
    """Return the plan that takes up stages in the order of their keys, lowest first, ties by id.

    With `patience` a plan that is sure to become too late is given up, its later work left undone.
    """
    return Bench(floor, keys, patience).run()


class Bench:
    def __init__(self, floor: Floor, keys: Sequence[int], patience: Patience | None = None) -> None:
        self.floor, self.keys_given = floor, keys
        self.patience = patience or Patience(floor, [None] * len(floor.orders), 0)
        self.last = [(self.patience.days[o] + 1) * DAY for o in floor.order_of]
        self.keys = [key if pin is None else PINNED for key, pin in zip(keys, floor.pin, strict=True)]
        self.rest = list(floor.effort)
        self.stints: list[StintRow] = []
        self.done = [-1] * len(floor.stages)
        self.unfinished = len(floor.stages)
        self.missing = [len(before) for before in floor.before]
        self.ready = [day * DAY for day in floor.ready]
        self.heaps: list[list[tuple[int, int]]] = [[] for _ in floor.kinds]
        self.loaded: list[list[int]] = [[] for _ in floor.kinds]
        self.later: dict[int, list[int]] = {}
        self.free_units = list(floor.units)
        self.people = _specialists_first(floor)
        self.kinds = [
            [k for k, kind in enumerate(floor.kinds) if p in kind.people] for p in range(len(floor.people))
        ]
        self.plain = not floor.machines and not any(floor.least)
        self.heaps_of = [[self.heaps[k] for k in kinds] for kinds in self.kinds]
        self.today = -1
        for s in [s for s, before in enumerate(floor.before) if not before]:
            self._release(s)

    def run(self) -> Run:
        """Work through the days until everything is done or the days end."""
        for day in range(self.floor.days):
            if not self.unfinished or self.patience.late > self.patience.most:
                break
            self.open(day)
            self.work(day)
        return Run(self.stints, self.done, list(self.keys_given))

    def open(self, day: int) -> None:
        """Lay out what has become ready by the morning of a day."""
        self.today = day
        for s in self.later.pop(day, ()):
            self._lay_out(s)

    def _lay_out(self, s: int) -> None:
        kind = self.floor.kind_of[s]
        if self.plain:
            heappush(self.heaps[kind], (self.keys[s], s))
        elif self.floor.kinds[kind].machine is not None and self.rest[s] < self.floor.effort[s]:
            self.loaded[kind].append(s)
        else:
            heappush(self.heaps[kind], (self.keys[s], s))

    def work(self, day: int) -> None:
        """Let everybody work through a day."""
        opens, closes = self.floor.opens, self.floor.closes
        clock = [(opens[p][day], p, -1) for p in self.people if closes[p][day] > opens[p][day]]
        heapify(clock)
        idle: set[int] = set()
        while clock:
            now = clock[0][0]
            while clock and clock[0][0] == now:
                _, p, s = heappop(clock)
                if s >= 0:
                    self._lay_down(s, day, now)
                if closes[p][day] > now:
                    idle.add(p)
            for p in self.people:
                if p not in idle:
                    continue
                left = closes[p][day] - now
                taken = self._pick(p, day, left) if left > 0 else None
                if taken is not None:
                    heappush(clock, (self._sit_down(p, taken, (day, now)), p, taken))
                    idle.discard(p)

    def _sit_down(self, p: int, s: int, moment: tuple[int, int]) -> int:
        """Begin a stint that lasts until the stage is done or the day is; return the minute it ends."""
        day, now = moment
        minutes = min(self.rest[s], self.floor.closes[p][day] - now)
        self.rest[s] -= minutes
        self.stints.append((s, p, day, now, minutes))
        return now + minutes

    def _lay_down(self, s: int, day: int, now: int) -> None:
        if self.rest[s]:
            self.later.setdefault(day + 1, []).append(s)
            return
        if not self.plain:
            self._free(s)
        self._finish(s, day * DAY + now)

    def _free(self, s: int) -> None:
        machine = self.floor.kinds[self.floor.kind_of[s]].machine
        if machine is not None:
            self.free_units[machine] += 1

    def _finish(self, s: int, instant: int) -> None:
        self.done[s] = instant
        self.unfinished -= 1
        if instant >= self.last[s]:
            self._lose_days(s, instant // DAY)
        for later, days in self.floor.after[s]:
            self.missing[later] -= 1
            moment = moment_after(instant, days)
            if moment > self.ready[later]:
                self.ready[later] = moment
            if not self.missing[later]:
                self._release(later)

    def _lose_days(self, s: int, day: int) -> None:
        order = self.floor.order_of[s]
        if day > self.patience.days[order]:
            self.patience.lose(order, day)

    def _release(self, s: int) -> None:
        instant = self.ready[s]
        if instant >= self.floor.days * DAY:
            return
        if not self.rest[s]:
            self._finish(s, instant)
        elif instant // DAY > self.today:
            self.later.setdefault(instant // DAY, []).append(s)
        else:
            self._lay_out(s)

    def _fullest(self, p: int) -> list[tuple[int, int]] | None:
        """Return the heap with the most pressing stage that a person may do."""
        best: list[tuple[int, int]] | None = None
        for heap in self.heaps_of[p]:
            if heap and (best is None or heap[0] < best[0]):
                best = heap
        return best

    def _pick(self, p: int, day: int, left: int) -> int | None:
        if self.plain:
            heap = self._fullest(p)
            return None if heap is None else heappop(heap)[1]
        found = self._most_pressing(p, day, left)
        if found is None:
            return None
        (_, s), resumed = found
        self._take_up(s, resumed)
        return s

    def _most_pressing(self, p: int, day: int, left: int) -> tuple[tuple[int, int], bool] | None:
        """Return the key and number of the stage that a person would take up, and whether it is resumed."""
        best: tuple[int, int] | None = None
        resumed = False
        if self.plain:
            heap = self._fullest(p)
            return None if heap is None else (heap[0], False)
        for k in self.kinds[p]:
            found = self._pick_loaded(k, day, left)
            if found is not None and (best is None or found < best):
                best, resumed = found, True
            found = self._pick_waiting(k, day, left)
            if found is not None and (best is None or found < best):
                best, resumed = found, False
        return None if best is None else (best, resumed)

    def _take_up(self, s: int, resumed: bool) -> None:
        kind = self.floor.kind_of[s]
        if resumed:
            self.loaded[kind].remove(s)
            return
        heap = self.heaps[kind]
        if heap[0][1] == s:
            heappop(heap)
        else:
            heap.remove((self.keys[s], s))
            heapify(heap)
        machine = self.floor.kinds[kind].machine
        if machine is not None:
            self.free_units[machine] -= 1

    def _pick_loaded(self, k: int, day: int, left: int) -> tuple[int, int] | None:
        """Return a stage already on its machine; it is as pressing as whatever waits for that machine."""
        kind = self.floor.kinds[k]
        if kind.machine is None or not self.loaded[k] or not self.floor.runs(kind, day):
            return None
        fitting = [(self.keys[s], s) for s in self.loaded[k] if left >= self._shortest(s)]
        if not fitting:
            return None
        key, s = min(fitting)
        if not self.free_units[kind.machine]:
            waiting = (
                h[0][0]
                for h, other in zip(self.heaps, self.floor.kinds, strict=True)
                if h and other.machine == kind.machine
            )
            key = min([key, *waiting])
        return key, s

    def _pick_waiting(self, k: int, day: int, left: int) -> tuple[int, int] | None:
        heap, kind = self.heaps[k], self.floor.kinds[k]
        if not heap or not self.floor.runs(kind, day):
            return None
        if kind.machine is not None and not self.free_units[kind.machine]:
            return None
        if left >= self._shortest(heap[0][1]):
            return heap[0]
        return min((item for item in heap if left >= self._shortest(item[1])), default=None)

    def _shortest(self, s: int) -> int:
        return min(self.floor.least[s], self.rest[s])


def _specialists_first(floor: Floor) -> list[int]:
    choice = [sum(p in floor.kinds[k].people for k in floor.kind_of) for p in range(len(floor.people))]
    return sorted(range(len(floor.people)), key=lambda p: (choice[p], p))
