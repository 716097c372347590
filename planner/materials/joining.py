"""Which end goes into which joined length: a length takes whole slots, and shares few of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import gcd

from .fills import Group
from .programme import Programme, Row, solve
from .slots import End, Slot
from .thrifty import thrifty_ends
from .ties import cannot_be_joined, spare

EFFORT = 4


@dataclass(frozen=True)
class Shares:
    """Columns and rows that share slots out among the lengths of a group, exactly.

    Each length takes whole slots of each kind; besides, up to `shared` slots are shared by several.
    All lengths are measured in `unit`.
    """

    group: Group
    kinds: tuple[Slot, ...]
    shared: int

    @cached_property
    def unit(self) -> int:
        """The largest length that all the others are whole multiples of."""
        group = self.group
        rooms = (slot.room for slot in self.kinds)
        return gcd(group.loss, *group.least_ends, *group.lengths, *rooms)

    @cached_property
    def most(self) -> list[int]:
        """The greatest values of the columns: whole slots, kinds shared, whether an end, how long."""
        lengths, kinds, shared = len(self.group.lengths), len(self.kinds), self.shared
        whole = [self._most_whole(slot, number) for slot in self.kinds for number in range(lengths)]
        longest = max((slot.room for slot in self.kinds), default=0) // self.unit
        return [*whole, *[1] * (shared * kinds), *[1] * (shared * lengths), *[longest] * (shared * lengths)]

    def rows(self, slots: Sequence[int]) -> list[Row]:
        """Return the rows when there are so many slots of each kind."""
        found = [self._of_kind(kind, given) for kind, given in enumerate(slots)]
        for share in range(self.shared):
            found += self._one_slot(share)
        return [*found, *(self._long_enough(number) for number in range(len(self.group.lengths)))]

    def ends(self, values: Sequence[int], slots: Sequence[Slot]) -> tuple[End, ...]:
        """Return the ends that the values of the columns stand for, each out of its own slot."""
        free = {kind: [n for n, slot in enumerate(slots) if slot == kind] for kind in self.kinds}
        value, found = values, []
        for number, ribbon in enumerate(self.group.ribbons):
            for kind, slot in enumerate(self.kinds):
                taken = (free[slot].pop() for _ in range(value[self._whole(kind, number)]))
                found += [End(place, ribbon, slot.room) for place in taken]
        for share in range(self.shared):
            of = [slot for kind, slot in enumerate(self.kinds) if value[self._is_kind(share, kind)]]
            place = free[of[0]].pop() if of else -1
            for number, ribbon in enumerate(self.group.ribbons):
                if value[self._is_end(share, number)]:
                    found.append(End(place, ribbon, value[self._length(share, number)] * self.unit))
        return tuple(found)

    def _most_whole(self, slot: Slot, number: int) -> int:
        if slot.room < self.group.least_ends[number]:
            return 0
        return -(-self.group.lengths[number] // max(1, slot.room - self.group.loss)) + 1

    def _whole(self, kind: int, number: int) -> int:
        return kind * len(self.group.lengths) + number

    def _is_kind(self, share: int, kind: int) -> int:
        return len(self.kinds) * len(self.group.lengths) + share * len(self.kinds) + kind

    def _is_end(self, share: int, number: int) -> int:
        return self._is_kind(self.shared, 0) + share * len(self.group.lengths) + number

    def _length(self, share: int, number: int) -> int:
        return self._is_end(self.shared, 0) + share * len(self.group.lengths) + number

    def _of_kind(self, kind: int, given: int) -> Row:
        taken = {self._whole(kind, number): 1 for number in range(len(self.group.lengths))}
        taken |= {self._is_kind(share, kind): 1 for share in range(self.shared)}
        return Row(taken, most=given)

    def _one_slot(self, share: int) -> list[Row]:
        lengths, group, unit = range(len(self.group.lengths)), self.group, self.unit
        may = {
            self._is_kind(share, n): int(group.can_share(slot.room, lengthwise=slot.lengthwise))
            for n, slot in enumerate(self.kinds)
        }
        never = {column: 1 for column, allowed in may.items() if not allowed}
        room = {self._is_kind(share, n): -(slot.room // unit) for n, slot in enumerate(self.kinds)}
        longest = max(slot.room for slot in self.kinds) // unit
        rows = [
            Row(dict.fromkeys(may, 1), most=1),
            Row(never, most=0),
            Row({**{self._length(share, number): 1 for number in lengths}, **room}, most=0),
        ]
        for number in lengths:
            end, length = self._is_end(share, number), self._length(share, number)
            rows.append(Row({length: 1, end: -longest}, most=0))
            rows.append(Row({length: 1, end: -(group.least_ends[number] // unit)}, least=0))
        return rows

    def _long_enough(self, number: int) -> Row:
        """Together the ends less a join each reach the length less one join."""
        loss, unit = self.group.loss // self.unit, self.unit
        gained = {self._whole(kind, number): slot.room // unit - loss for kind, slot in enumerate(self.kinds)}
        for share in range(self.shared):
            gained |= {self._length(share, number): 1, self._is_end(share, number): -loss}
        return Row(gained, least=self.group.lengths[number] // unit - loss)


@dataclass(frozen=True)
class NotJoined:
    """No way was found to make the lengths out of the slots; `proved` when there is none."""

    proved: bool


def join(group: Group, slots: Sequence[Slot]) -> tuple[End, ...] | NotJoined:
    """Give every length of a group its ends out of the slots, few joins first."""
    return _longest_first(group, slots) or thrifty_ends(group, slots) or _searched(group, slots)


def _longest_first(group: Group, slots: Sequence[Slot]) -> tuple[End, ...] | None:
    free = [(slot.room, number) for number, slot in enumerate(slots)]
    found: list[End] = []
    for place in sorted(range(len(group.lengths)), key=lambda n: (-group.lengths[n], group.ribbons[n])):
        taken = _ends_for(group.only([place]), free)
        if taken is None:
            return None
        for room, number, end in taken:
            free.remove((room, number))
            found.append(End(number, group.ribbons[place], end))
            if not slots[number].lengthwise and group.reaches(room - end):
                free.append((room - end, number))
    return tuple(found)


def _ends_for(one: Group, free: Sequence[tuple[int, int]]) -> list[tuple[int, int, int]] | None:
    """Take the longest slots until one can finish the length, and for that the shortest that does."""
    pool, taken, missing = list(free), [], one.longest
    while missing > 0:
        pool = [each for each in pool if one.reaches(each[0])]
        if not pool:
            return None
        enough = [each for each in pool if each[0] >= missing]
        room, number = min(enough) if enough else max(pool, key=lambda each: (each[0], -each[1]))
        end = min(room, max(missing, one.least_end))
        pool.remove((room, number))
        taken.append((room, number, end))
        missing -= end
        missing += one.loss if missing > 0 else 0
    return taken


def most_shared(group: Group, slots: Sequence[Slot]) -> int:
    """Return how many slots are shared by several lengths at the most, where that is of use.

    Each takes at least one more join off what there is to spare. Where no end need be longer than a join,
    one fewer than there are lengths is enough: ends that go round in a circle can be swapped back, and
    what becomes too short of them is worth no more than its join.
    """
    can_share = sum(group.can_share(slot.room, lengthwise=slot.lengthwise) for slot in slots)
    fewer = len(group.lengths) - 1
    if not fewer:
        return 0
    if max(group.least_ends) <= group.loss:
        return min(can_share, fewer)
    return min(can_share, max(0, spare(group, slots)) // group.loss) if group.loss else can_share


def _searched(group: Group, slots: Sequence[Slot]) -> tuple[End, ...] | NotJoined:
    """Share the slots out with the fewest ends."""
    kinds = tuple(sorted(set(slots)))
    if not kinds or cannot_be_joined(group, slots):
        return NotJoined(proved=True)
    enough = most_shared(group, slots)
    shares = Shares(group, kinds, min(enough, len(group.lengths)))
    rows = shares.rows([sum(1 for slot in slots if slot == kind) for kind in kinds])
    whole = len(kinds) * len(group.lengths)
    costs = [1 if n < whole or most == 1 else 0 for n, most in enumerate(shares.most)]
    answer = solve(Programme(costs, shares.most, rows), effort=EFFORT)
    if answer.uses:
        return shares.ends(answer.uses, slots)
    return NotJoined(answer.settled and shares.shared == enough)
