"""Fitting an order into the free time of a timetable without moving anything that stands in it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from planner.schedule.floor import DAY, Floor, StintRow, moment_after


@dataclass(frozen=True)
class _Place:
    stints: list[StintRow]
    end: int

    @property
    def start(self) -> int:
        return self.stints[0][2] * DAY + self.stints[0][3]


def fit_into_gaps(
    floor: Floor, standing: Sequence[StintRow], done: Sequence[int], fresh: Iterable[int]
) -> tuple[list[StintRow], list[int]] | None:
    """Return all stints and finishing instants once the fresh stages are placed, earliest first.

    None when one finds no place before the days end, or would come after a standing stage that
    waits for it.
    """
    gaps = _Gaps(floor, standing, done)
    finished = list(done)
    wanted = set(fresh)
    for s in floor.in_turn:
        if s not in wanted:
            continue
        moments = [moment_after(finished[earlier], days) for earlier, days in floor.before[s]]
        if any(finished[earlier] < 0 for earlier, _ in floor.before[s]):
            return None
        start = max([floor.ready[s] * DAY, *moments])
        end = gaps.place(s, start)
        if end is None:
            return None
        finished[s] = end
    starts = _starts(standing, finished, floor)
    for s in wanted:
        for later, days in floor.after[s]:
            if later not in wanted and starts[later] < moment_after(finished[s], days):
                return None
    return gaps.stints, finished


def _starts(standing: Sequence[StintRow], finished: Sequence[int], floor: Floor) -> list[int]:
    starts = [instant if instant >= 0 else floor.days * DAY for instant in finished]
    for s, _, day, minute, _ in standing:
        starts[s] = min(starts[s], day * DAY + minute)
    return starts


class _Gaps:
    def __init__(self, floor: Floor, standing: Sequence[StintRow], done: Sequence[int]) -> None:
        self.floor = floor
        self.stints = list(standing)
        self.taken: dict[tuple[int, int], list[tuple[int, int]]] = {}
        self.holds: list[list[tuple[int, int]]] = [[] for _ in floor.machines]
        loaded: dict[int, int] = {}
        for s, p, day, start, minutes in standing:
            self.taken.setdefault((p, day), []).append((start, start + minutes))
            loaded[s] = min(loaded.get(s, day * DAY + start), day * DAY + start)
        for s, start in loaded.items():
            machine = floor.kinds[floor.kind_of[s]].machine
            if machine is not None:
                self.holds[machine].append((start, done[s] if done[s] >= 0 else floor.days * DAY))

    def place(self, s: int, start: int) -> int | None:
        """Place a stage from `start` on and return the instant it is finished."""
        if not self.floor.effort[s]:
            return start if start < self.floor.days * DAY else None
        machine = self.floor.kinds[self.floor.kind_of[s]].machine
        while True:
            place = self._earliest(s, start)
            if place is None:
                return None
            clash = None if machine is None else self._frees_up(machine, place)
            if clash is None:
                break
            start = clash
        for row in place.stints:
            self.taken.setdefault((row[1], row[2]), []).append((row[3], row[3] + row[4]))
        self.stints += place.stints
        if machine is not None:
            self.holds[machine].append((place.start, place.end))
        return place.end

    def _frees_up(self, machine: int, place: _Place) -> int | None:
        """Return when the first clashing stage leaves the machine; None if there is room for it all along."""
        clashing = [hold for hold in self.holds[machine] if hold[0] < place.end and place.start < hold[1]]
        at_once = max(
            (
                sum(start <= moment < end for start, end in clashing)
                for moment in [place.start, *(a for a, _ in clashing)]
            ),
            default=0,
        )
        return min(end for _, end in clashing) if at_once >= self.floor.units[machine] else None

    def _earliest(self, s: int, start: int) -> _Place | None:
        kind = self.floor.kinds[self.floor.kind_of[s]]
        rest, stints = self.floor.effort[s], list[StintRow]()
        day, minute = divmod(start, DAY)
        while day < self.floor.days:
            if self.floor.runs(kind, day):
                ways = [self._sittings(s, p, (day, minute), rest) for p in kind.people]
                best = max(ways, key=lambda way: (sum(row[4] for row in way), -_end(way)), default=[])
                stints += best
                rest -= sum(row[4] for row in best)
                if not rest:
                    return _Place(stints, day * DAY + _end(best))
            day, minute = day + 1, 0
        return None

    def _sittings(self, s: int, p: int, moment: tuple[int, int], rest: int) -> list[StintRow]:
        """Return what one person could do of a stage on one day in the gaps from a moment on."""
        day, minute = moment
        rows: list[StintRow] = []
        for start, end in self._free(p, day):
            start = max(start, minute)
            if end - start >= max(1, min(self.floor.least[s], rest)) and rest:
                rows.append((s, p, day, start, min(rest, end - start)))
                rest -= rows[-1][4]
        return rows

    def _free(self, p: int, day: int) -> list[tuple[int, int]]:
        free, minute = [], self.floor.opens[p][day]
        for start, end in sorted(self.taken.get((p, day), ())):
            free.append((minute, start))
            minute = end
        return [*free, (minute, self.floor.closes[p][day])]


def _end(rows: Sequence[StintRow]) -> int:
    return rows[-1][3] + rows[-1][4] if rows else 0
