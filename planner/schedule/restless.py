"""A dispatcher for tight weeks, in which a pressing stage interrupts the work of the day."""

from __future__ import annotations

from collections.abc import Sequence
from heapq import heapify, heappop, heappush

from planner.schedule.dispatch import Bench, Patience, Run
from planner.schedule.floor import Floor


def dispatch_restlessly(
    floor: Floor, keys: Sequence[int], patience: Patience | None = None, *, breaks_in: int = 0
) -> Run:
    """Return the plan in which a stage breaks in on another whose key is higher by more than `breaks_in`.

    Whoever lays a stage down for another takes it up again herself that day, if there is time.
    """
    return RestlessBench(floor, keys, breaks_in, patience).run()


class RestlessBench(Bench):
    """A bench on which a stage that presses much more breaks in on one that is being worked on.

    The most pressing stage goes first, to somebody who can finish it today if there is one.
    """

    def __init__(
        self, floor: Floor, keys: Sequence[int], breaks_in: int, patience: Patience | None = None
    ) -> None:
        self.fresh = True  # whether anything lies there that may press more than what is being done
        super().__init__(floor, keys, patience)
        self.breaks_in = breaks_in
        self.here: set[int] = set()
        self.at: dict[int, int] = {}  # person: the place of her stint among all
        self.aside: dict[int, list[int]] = {}  # person: what she laid down today
        self.clock: list[tuple[int, int, int]] = []

    def _lay_out(self, s: int) -> None:
        super()._lay_out(s)
        self.fresh = True

    def work(self, day: int) -> None:
        """Let everybody work through a day."""
        opens, closes = self.floor.opens, self.floor.closes
        self.clock = [(opens[p][day], p, -1) for p in self.people if closes[p][day] > opens[p][day]]
        heapify(self.clock)
        while self.clock:
            now = self.clock[0][0]
            while self.clock and self.clock[0][0] == now:
                _, p, place = heappop(self.clock)
                self._look_up(p, place, (day, now))
            self._take_seats((day, now))
            while self.fresh and self._break_in((day, now)):
                pass
            self.fresh = False
        self.here.clear()
        for stages in self.aside.values():
            self.later.setdefault(day + 1, []).extend(stages)
        self.aside.clear()

    def _look_up(self, p: int, place: int, moment: tuple[int, int]) -> None:
        """Let a person come in or finish a stint."""
        day, now = moment
        if place < 0:
            self.here.add(p)
        elif self.at.get(p) == place:
            del self.at[p]
            self._lay_down(self.stints[place][0], day, now)

    def _take_seats(self, moment: tuple[int, int]) -> None:
        free = [p for p in self.people if p in self.here and p not in self.at]
        while tops := {p: top for p in free if (top := self._top(p, moment)) is not None}:
            s = min(tops.values())[1]
            able = [p for p in free if p in tops and tops[p][1] == s]
            p = next((p for p in able if self._could_finish(p, s, moment)), None)
            if p is None:
                p = next((p for p in self._open_to(s, moment) if self._could_finish(p, s, moment)), able[0])
            if p in self.at:
                self._cut_short(p, moment[1])
            else:
                free.remove(p)
            self._seat(p, s, moment)

    def _top(self, p: int, moment: tuple[int, int]) -> tuple[int, int] | None:
        """Return the key and number of the most pressing stage a person could work on."""
        day, now = moment
        left = self.floor.closes[p][day] - now
        if left <= 0:
            return None
        found = self._most_pressing(p, day, left)
        mine = [(self.keys[s], s) for s in self.aside.get(p, ()) if left >= self._shortest(s)]
        return min([*mine, *([found[0]] if found else [])], default=None)

    def _could_finish(self, p: int, s: int, moment: tuple[int, int]) -> bool:
        return self.floor.closes[p][moment[0]] - moment[1] >= self.rest[s]

    def _open_to(self, s: int, moment: tuple[int, int]) -> list[int]:
        """Return the people at work on something that presses so much less that a stage may break in."""
        laid_aside = any(s in stages for stages in self.aside.values())
        people = self.floor.kinds[self.floor.kind_of[s]].people
        return [
            p
            for p in self.people
            if p in people and not laid_aside and p in self.at and self._gives_way(p, s, moment[1])
        ]

    def _gives_way(self, p: int, s: int, now: int) -> bool:
        doing, _, _, begun, _ = self.stints[self.at[p]]
        done = now - begun
        return (
            self.keys[s] + self.breaks_in < self.keys[doing] and done > 0 and done >= self.floor.least[doing]
        )

    def _seat(self, p: int, s: int, moment: tuple[int, int]) -> None:
        if s in self.aside.get(p, ()):
            self.aside[p].remove(s)
        else:
            self._take_up(s, s in self.loaded[self.floor.kind_of[s]])
        self.at[p] = len(self.stints)
        end = self._sit_down(p, s, moment)
        heappush(self.clock, (end, p, self.at[p]))

    def _break_in(self, moment: tuple[int, int]) -> bool:
        """Let the stage that presses most beyond what somebody is doing break in; return whether one did."""
        best: tuple[int, int, int] | None = None
        for p in self.people:
            top = self._top(p, moment) if p in self.at else None
            if top is not None and self._gives_way(p, top[1], moment[1]):
                gain = self.keys[self.stints[self.at[p]][0]] - top[0]
                best = max(best or (0, 0, 0), (gain, p, top[1]))
        if best is None:
            return False
        self._cut_short(best[1], moment[1])
        self._seat(best[1], best[2], moment)
        return True

    def _cut_short(self, p: int, now: int) -> None:
        place = self.at.pop(p)
        s, _, day, begun, minutes = self.stints[place]
        self.stints[place] = (s, p, day, begun, now - begun)
        self.rest[s] += minutes - (now - begun)
        self.aside.setdefault(p, []).append(s)
