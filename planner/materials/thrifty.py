"""Lengths joined one after the other, each out of the slots that waste least."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice

from .fills import Group
from .slots import End, Slot

MOST_CHOICES = 4_000


@dataclass(frozen=True)
class Choice:
    """Slots of one length taken whole, and perhaps one more of which only an end is taken."""

    whole: tuple[tuple[Slot, int], ...]
    shared: Slot | None
    end: int


def thrifty_ends(group: Group, slots: Sequence[Slot]) -> tuple[End, ...] | None:
    """Return ends for all lengths of a group, short or long ones made first; None where neither does."""
    places = sorted(range(len(group.lengths)), key=lambda place: group.lengths[place])
    return _in_order(group, slots, places) or _in_order(group, slots, places[::-1])


def _in_order(group: Group, slots: Sequence[Slot], places: Sequence[int]) -> tuple[End, ...] | None:
    """Make the lengths in this order; what is left of a shared slot serves those that follow."""
    free: dict[Slot, list[int]] = {}
    for number, slot in enumerate(slots):
        free.setdefault(slot, []).append(number)
    found: list[End] = []
    for place in places:
        counts = {slot: len(numbers) for slot, numbers in free.items() if numbers}
        choices = islice(_choices(group, place, counts), MOST_CHOICES)
        choice = min(choices, key=lambda each: (_waste(group, each), _ends(each)), default=None)
        if choice is None:
            return None
        ribbon = group.ribbons[place]
        found += [
            End(free[slot].pop(), ribbon, slot.room) for slot, many in choice.whole for _ in range(many)
        ]
        if choice.shared is not None:
            number = free[choice.shared].pop()
            found.append(End(number, ribbon, choice.end))
            rest = Slot(choice.shared.room - choice.end, lengthwise=False)
            if group.reaches(rest.room):
                free.setdefault(rest, []).append(number)
    return tuple(found)


def _choices(group: Group, place: int, free: Mapping[Slot, int]) -> Iterator[Choice]:
    least_end = group.least_ends[place]
    kinds = sorted((slot for slot in free if slot.room >= least_end), reverse=True)
    for whole, left in _whole(group, kinds, free, group.lengths[place]):
        if left <= 0:
            yield Choice(whole, None, 0)
            continue
        end = max(left, least_end)
        taken = dict(whole)
        for slot in kinds:
            if not slot.lengthwise and slot.room >= end and free[slot] > taken.get(slot, 0):
                yield Choice(whole, slot, end)


def _whole(
    group: Group, kinds: Sequence[Slot], free: Mapping[Slot, int], missing: int
) -> Iterator[tuple[tuple[tuple[Slot, int], ...], int]]:
    """Yield slots taken whole, none of them needless, and what is still missing of the last end."""
    if not kinds or missing <= 0:
        yield (), missing
        return
    slot, gain = kinds[0], kinds[0].room - group.loss
    enough = 1 if missing <= slot.room else -(-(missing - slot.room) // gain) + 1 if gain > 0 else 0
    for many in range(min(free[slot], enough), -1, -1):
        left = missing - many * gain
        if many and left <= group.loss:
            yield ((slot, many),), 0
            continue
        for whole, rest in _whole(group, kinds[1:], free, left):
            yield (((slot, many), *whole) if many else whole), rest


def _waste(group: Group, choice: Choice) -> int:
    """What is taken off the sum of all ends less a join each: the least is best."""
    taken = sum((slot.room - group.loss) * many for slot, many in choice.whole)
    if choice.shared is None:
        return taken
    rest = choice.shared.room - choice.end
    return taken + choice.shared.room - group.loss - (rest - group.loss if group.reaches(rest) else 0)


def _ends(choice: Choice) -> int:
    return sum(many for _, many in choice.whole) + (choice.shared is not None)
