"""Sums anyone can add up again: one group of people, from one day to another, against the work inside."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from planner.schedule.floor import Floor
from planner.schedule.flow import Mask, Minutes, Pressing, groups, working_minutes
from planner.schedule.proof import MOST_ORDERS_TO_READ


class PlainSum:
    """Working minutes of a group of people from one day to another, against the stages inside."""

    def __init__(self, floor: Floor, work: Pressing) -> None:
        self.days = floor.days
        inside = work.room > 0
        self.first = inside.argmax(axis=1)
        self.last = floor.days - 1 - inside[:, ::-1].argmax(axis=1)
        self.effort = np.array([floor.effort[s] for s in work.stages], dtype=np.int64)
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

    def worst(self) -> Mask | None:
        """Return the stages that lack the most minutes in one group's days; None if no group lacks any."""
        worst: tuple[int, Mask | None] = (0, None)
        for group in self.groups:
            inside = np.array([people <= set(group) for people in self.people], dtype=np.bool_)
            if not inside.any():
                continue
            lacking, starts, ends = self._lacking(list(group), inside)
            row, column = np.unravel_index(int(lacking.argmax()), lacking.shape)
            if lacking[row, column] > worst[0]:
                rows = inside & (self.first >= starts[row]) & (self.last <= ends[column])
                worst = int(lacking[row, column]), rows
        return worst[1]

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
