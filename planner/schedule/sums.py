"""Sums anyone can add up again: one group of people, from one day to another, against the work inside."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from planner.schedule.floor import Floor
from planner.schedule.flow import Mask, Minutes, Pressing, groups, working_minutes
from planner.schedule.proof import MOST_ORDERS_TO_READ

MOST_PLACES = 2000  # days from and to that are gone through for the fewest orders


class PlainSum:
    """Working minutes of a group of people from one day to another, against the stages inside."""

    def __init__(self, floor: Floor, work: Pressing) -> None:
        self.days = floor.days
        inside = work.room > 0
        self.first = inside.argmax(axis=1)
        self.last = floor.days - 1 - inside[:, ::-1].argmax(axis=1)
        self.effort = np.array([floor.effort[s] for s in work.stages], dtype=np.int64)
        self.order = np.array([floor.order_of[s] for s in work.stages], dtype=np.int64)
        self.people = [frozenset(floor.kinds[floor.kind_of[s]].people) for s in work.stages]
        self.groups = groups(floor, {floor.kind_of[s] for s in work.stages})
        worked = working_minutes(floor)
        self.until = np.concatenate(
            [np.zeros((len(worked), 1), dtype=np.int64), worked.cumsum(axis=1)], axis=1
        )

    def lacks(self, rows: Mask) -> int:
        """Return by how many minutes the chosen stages exceed what their people work in those days."""
        people = sorted(frozenset[int]().union(*(p for p, row in zip(self.people, rows, strict=True) if row)))
        first, last = int(self.first[rows].min()), int(self.last[rows].max())
        until = self.until[people]
        return int(self.effort[rows].sum() - (until[:, last + 1] - until[:, first]).sum())

    def is_short(self) -> bool:
        """Return whether some group lacks minutes in some days."""
        return any((lacking > 0).any() for _, lacking, _, _ in self._groups_with_work())

    def fewest(self) -> Mask | None:
        """Return stages that lack minutes, of as few orders as a sum can hold; None if no group lacks any.

        Of the days in which a group lacks minutes the fewest orders come from keeping the largest: no
        others of so few could ask for more. So this is the least number for plain sums; where one person
        works it is that for any reason by flow (the demand bound). Only the
        days that lack the most are gone through where there are very many.
        """
        best: tuple[int, int, Mask | None] = (len(self.effort) + 1, 0, None)
        for inside, lacking, starts, ends in self._groups_with_work():
            for row, column in _worst_places(lacking):
                rows = inside & (self.first >= starts[row]) & (self.last <= ends[column])
                missing = int(lacking[row, column])
                kept = self._largest(rows, missing)
                count = len(set(self.order[kept].tolist()))
                if (count, -missing) < best[:2]:
                    best = count, -missing, kept
        return best[2]

    def _largest(self, rows: Mask, missing: int) -> Mask:
        """Return the rows of as few orders as still exceed what there is, the largest orders kept."""
        asked = np.bincount(self.order[rows], weights=self.effort[rows]).astype(np.int64)
        largest = np.argsort(-asked, kind="stable")
        there = int(asked.sum()) - missing
        needed = int(np.searchsorted(asked[largest].cumsum(), there, side="right")) + 1
        return rows & np.isin(self.order, largest[:needed])

    def _groups_with_work(self) -> Iterator[tuple[Mask, Minutes, Minutes, Minutes]]:
        for group in self.groups:
            inside = np.array([people <= set(group) for people in self.people], dtype=np.bool_)
            if inside.any():
                yield inside, *self._lacking(list(group), inside)

    def _lacking(self, group: list[int], inside: Mask) -> tuple[Minutes, Minutes, Minutes]:
        """Return the minutes lacking from each day on which some window opens to each on which one closes."""
        starts, first = np.unique(self.first[inside], return_inverse=True)
        ends, last = np.unique(self.last[inside], return_inverse=True)
        asked = np.zeros((len(starts), len(ends)), dtype=np.int64)
        np.add.at(asked, (first, last), self.effort[inside])
        np.cumsum(asked[::-1], axis=0, out=asked[::-1])
        np.cumsum(asked, axis=1, out=asked)
        until = self.until[group].sum(axis=0)
        asked -= np.maximum(until[ends + 1][None, :] - until[starts][:, None], 0)
        return asked, starts, ends


def _worst_places(lacking: Minutes) -> list[tuple[int, int]]:
    """Return where minutes are lacking, the most first, as far as anyone would go through them."""
    rows, columns = np.nonzero(lacking > 0)
    worst_first = np.argsort(-lacking[rows, columns], kind="stable")[:MOST_PLACES]
    return list(zip(rows[worst_first].tolist(), columns[worst_first].tolist(), strict=True))


def readable(floor: Floor, work: Pressing, rows: Mask, lacks: Callable[[Mask], int]) -> Mask:
    """Return the stages without the orders that add nothing, and without the smallest ones as long
    as there are more than anyone would read and the rest still lacks minutes."""
    order = np.array([floor.order_of[s] for s in work.stages], dtype=np.int64)
    effort = np.array([floor.effort[s] for s in work.stages], dtype=np.int64)
    smallest_first = sorted(
        set(order[rows].tolist()), key=lambda o: (int(effort[rows & (order == o)].sum()), o)
    )
    missing = lacks(rows)
    for o in smallest_first:
        without = rows & (order != o)
        if without.sum() not in (0, rows.sum()) and lacks(without) >= missing:
            rows, missing = without, lacks(without)
    for o in smallest_first:
        without = rows & (order != o)
        too_many = len(set(order[rows].tolist())) > MOST_ORDERS_TO_READ
        if too_many and without.sum() < rows.sum() and lacks(without) > 0:
            rows = without
    return rows
