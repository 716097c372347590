"""Which end goes into which joined length, once the strips are chosen."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from .fills import Group


@dataclass(frozen=True)
class Slot:
    """Room for ends in one strip; a lengthwise one holds a single end."""

    strip: int
    room: int
    lengthwise: bool


@dataclass(frozen=True)
class End:
    """An end cut for one ribbon, `length` long."""

    strip: int
    ribbon: int
    length: int
    lengthwise: bool


EFFORT = 25


def join(group: Group, slots: Sequence[Slot]) -> tuple[End, ...] | None:
    """Give every length of a group its ends out of the slots, few joins first; None when it cannot be."""
    return _longest_first(group, slots) or _searched(group, slots)


def _longest_first(group: Group, slots: Sequence[Slot]) -> tuple[End, ...] | None:
    free = list(slots)
    found: list[End] = []
    wanted = sorted(zip(group.lengths, group.ribbons, strict=True), key=lambda each: (-each[0], each[1]))
    for length, ribbon in wanted:
        taken = _ends_for(group, length, free)
        if taken is None:
            return None
        for slot, end in taken:
            free.remove(slot)
            found.append(End(slot.strip, ribbon, end, slot.lengthwise))
            left = slot.room - end
            if not slot.lengthwise and group.reaches(left):
                free.append(Slot(slot.strip, left, lengthwise=False))
    return tuple(found)


def _ends_for(group: Group, length: int, free: Sequence[Slot]) -> list[tuple[Slot, int]] | None:
    """Take the longest slots until one can finish the length, and for that the shortest that does."""
    pool, taken, missing = list(free), [], length
    while missing > 0:
        pool = [slot for slot in pool if group.reaches(slot.room)]
        if not pool:
            return None
        enough = [slot for slot in pool if slot.room >= missing]
        slot = (
            min(enough, key=lambda each: (each.room, each.strip))
            if enough
            else max(pool, key=lambda each: (each.room, -each.strip))
        )
        end = min(slot.room, max(missing, group.least_end))
        pool.remove(slot)
        taken.append((slot, end))
        missing -= end
        missing += group.loss if missing > 0 else 0
    return taken


def _searched(group: Group, slots: Sequence[Slot]) -> tuple[End, ...] | None:
    """Share the slots out exactly, with the fewest ends."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    pairs = [(n, m) for n in range(len(slots)) for m in range(len(group.ribbons))]
    used = {pair: model.new_bool_var("") for pair in pairs}
    taken = {(n, m): model.new_int_var(0, slots[n].room, "") for n, m in pairs}
    for n, m in pairs:
        model.add(taken[n, m] <= slots[n].room * used[n, m])
        model.add(taken[n, m] >= group.least_end * used[n, m])
    for n, slot in enumerate(slots):
        each = range(len(group.ribbons))
        model.add(sum(taken[n, m] for m in each) <= slot.room)
        if slot.lengthwise:
            model.add(sum(used[n, m] for m in each) <= 1)
    for m, length in enumerate(group.lengths):
        every = range(len(slots))
        gained = sum(taken[n, m] - group.loss * used[n, m] for n in every)
        model.add(gained >= length - group.loss)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = EFFORT / 50
    if solver.solve(model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    return tuple(
        End(slots[n].strip, group.ribbons[m], solver.value(taken[n, m]), slots[n].lengthwise)
        for n, m in pairs
        if solver.value(used[n, m]) and solver.value(taken[n, m])
    )
