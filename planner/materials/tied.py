"""Joined lengths counted exactly: which of them are made together, and out of which slots."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from .fills import Group
from .joining import NotJoined, join
from .programme import Row
from .slots import Slot
from .ties import Tie, needed_ties

MOST_SLOTS = 1_000
MOST_TIES = 4_000


@dataclass
class Tied:
    """One column for each tie of a group, numbered from `first` on.

    The lengths tied to a single longest one are not told apart by ties, for there are too many: of them
    there is a column for the slots of each kind, and one for how many of each size. `sound` as long as no
    tie was left out but those that lose too much or come apart.
    """

    group: Group
    kinds: tuple[Slot, ...]
    every: list[Tie]
    longest: int | None = None
    first: int = 0
    sound: bool = True

    @property
    def most(self) -> list[int]:
        """How often each tie can be made at the most; then the slots and sizes tied to the longest."""
        most = [len(self.group.lengths)] * len(self.every)
        if self.longest is None:
            return most
        return [*most, *[MOST_SLOTS] * len(self.kinds), *[self._counts[size] for size in self._sizes]]

    def rows(self, given: Sequence[Mapping[int, int]]) -> list[Row]:
        """Every length is made in one tie, out of the slots of each kind that the other columns give."""
        found = []
        for place, size in enumerate(self._sizes):
            made = {self.first + n: tie.made[size] for n, tie in enumerate(self.every) if size in tie.made}
            made |= {self._tied_to_longest(place): 1} if self.longest is not None else {}
            found.append(Row(made, least=self._counts[size], most=self._counts[size]))
        for number, (kind, slots) in enumerate(zip(self.kinds, given, strict=True)):
            taken = {self.first + n: tie.taken[kind] for n, tie in enumerate(self.every) if kind in tie.taken}
            taken |= {self._slots_of_longest(number): 1} if self.longest is not None else {}
            found.append(Row({**taken, **{n: -count for n, count in slots.items()}}, most=0))
        return [*found, *self._long_enough()]

    def ties(self, values: Sequence[int]) -> list[tuple[Group, tuple[Slot, ...]]]:
        """Return which lengths are made of which slots."""
        left: dict[tuple[int, int], list[int]] = {}
        for place, size in enumerate(self.group.sizes):
            if place != self.longest:
                left.setdefault(size, []).append(place)
        found = []
        for n, tie in enumerate(self.every):
            for _ in range(values[self.first + n]):
                places = [left[size].pop() for size, many in tie.made.items() for _ in range(many)]
                found.append((self.group.only(places), _slots_of(tie)))
        if self.longest is not None:
            with_it = [self.longest, *(place for places in left.values() for place in places)]
            slots = [
                slot for n, slot in enumerate(self.kinds) for _ in range(values[self._slots_of_longest(n)])
            ]
            found.append((self.group.only(with_it), tuple(slots)))
        return found

    def without_unjoined(self, values: Sequence[int]) -> Tied | None:
        """Return the ties less those among the chosen that cannot be joined; None when all can be."""
        chosen = [tie for n, tie in enumerate(self.every) if values[self.first + n]]
        unjoined = [tie for tie in chosen if isinstance(self._joined(tie), NotJoined)]
        left = [tie for tie in self.every if tie not in unjoined]
        return replace(self, every=left, sound=False) if unjoined else None

    def _joined(self, tie: Tie) -> object:
        places: list[int] = []
        for size, many in tie.made.items():
            places += [place for place, each in enumerate(self.group.sizes) if each == size][:many]
        return join(self.group.only(places), _slots_of(tie))

    def _long_enough(self) -> list[Row]:
        """What is tied to the longest makes up all of it, one join less than there are lengths."""
        if self.longest is None:
            return []
        loss = self.group.loss
        gained = {self._slots_of_longest(n): slot.room - loss for n, slot in enumerate(self.kinds)}
        wanted = {self._tied_to_longest(n): -length for n, (length, _) in enumerate(self._sizes)}
        return [Row({**gained, **wanted}, least=self.group.lengths[self.longest] - loss)]

    @cached_property
    def _counts(self) -> Counter[tuple[int, int]]:
        return Counter(size for place, size in enumerate(self.group.sizes) if place != self.longest)

    @property
    def _sizes(self) -> list[tuple[int, int]]:
        return list(self._counts)

    def _slots_of_longest(self, kind: int) -> int:
        return self.first + len(self.every) + kind

    def _tied_to_longest(self, size: int) -> int:
        return self._slots_of_longest(len(self.kinds)) + size


def tied(group: Group, kinds: tuple[Slot, ...], spare: int) -> Tied | None:
    """Return the ties of a group that lose no more than there is to spare; None where they are too many."""
    places = [place for place, length in enumerate(group.lengths) if length == group.longest]
    longest = places[0] if len(places) == 1 and len(group.lengths) > 1 else None
    others = group.only([place for place in range(len(group.lengths)) if place != longest])
    ties = needed_ties(others, dict.fromkeys(kinds, MOST_SLOTS), spare)
    if ties is None or len(ties) > MOST_TIES:
        return None
    return Tied(group, kinds, ties, longest)


def _slots_of(tie: Tie) -> tuple[Slot, ...]:
    return tuple(slot for slot, many in tie.taken.items() for _ in range(many))
