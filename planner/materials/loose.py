"""Joined lengths counted loosely: ends along the cloth one by one, those across it as sums."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import islice

from .fills import Group
from .programme import Row
from .slots import Slot

MOST_MAKINGS = 300


@dataclass(frozen=True)
class Making:
    """A length begun with so many ends of each kind along the cloth, and what it still wants.

    `wanted` is a sum of ends less a join each, and `least` the fewest ends that can give it.
    """

    size: int
    ends: tuple[int, ...]
    wanted: int
    least: int


@dataclass(frozen=True)
class Loose:
    """The columns and rows that say what a group must be given at the least, numbered from `first` on.

    An end along the cloth serves one length and is never shared, so each length is made in one of few
    ways. What the lengths want besides is asked of all ends across the cloth together, less a join for
    each and for each cut between two lengths. No plan can do with less. The last columns are the cuts,
    and how much there is to spare, up to what is enough to lay all lengths out in a row.
    """

    group: Group
    kinds: tuple[Slot, ...]
    first: int

    @cached_property
    def sizes(self) -> tuple[tuple[tuple[int, int], int], ...]:
        """The lengths, each with its shortest end, and how many there are of each."""
        return tuple(
            sorted(Counter(self._size_of(n) for n in range(len(self.group.lengths))).items(), reverse=True)
        )

    @cached_property
    def makings(self) -> tuple[Making, ...]:
        """The ways to begin each length; where they are too many, ends along the cloth are summed up too."""
        return tuple(making for size in range(len(self.sizes)) for making in self._makings_of(size))

    @property
    def most(self) -> list[int]:
        """How often each column can be used at the most: makings, kinds summed up, cuts, what is to spare."""
        makings = [self.sizes[making.size][1] for making in self.makings]
        cuts = sum(making.least for making in self.makings) + len(self.group.lengths)
        return [*makings, *map(self._most_summed, self.kinds), cuts, self._enough_for_a_row]

    @property
    def spare(self) -> int:
        """The column of what there is to spare."""
        return self._cuts + 1

    @property
    def given(self) -> list[tuple[int, ...]]:
        """What decides whether the lengths can be joined: each making, and the slots from each room on up.

        Who cannot be joined cannot be out of fewer or shorter slots either.
        """
        makings = [(self.first + n,) for n in range(len(self.makings))]
        along = [(self._summed(n),) for n, slot in enumerate(self.kinds) if slot.lengthwise]
        across = [self._summed(n) for n, slot in enumerate(self.kinds) if not slot.lengthwise]
        return [*makings, *along, *(tuple(across[n:]) for n in range(len(across)))]

    def rows(self, given: Sequence[Mapping[int, int]]) -> list[Row]:
        """Every length is made, out of the slots of each kind that the other columns give."""
        found, kinds = [], range(len(self.kinds))
        for size, (_, count) in enumerate(self.sizes):
            made = {self.first + n: 1 for n, each in enumerate(self.makings) if each.size == size}
            found.append(Row(made, least=count, most=count))
        for kind, slots in enumerate(given):
            taken = {
                self.first + n: each.ends[kind] for n, each in enumerate(self.makings) if each.ends[kind]
            }
            given_or_taken = {**taken, self._summed(kind): 1, **{n: -count for n, count in slots.items()}}
            found.append(Row(given_or_taken, most=0))
        ends = {self.first + n: -each.least for n, each in enumerate(self.makings)}
        found.append(Row({**ends, self._cuts: 1, **{self._summed(n): 1 for n in kinds}}, least=0))
        return [*found, *map(self._long_enough, sorted({least_end for (_, least_end), _ in self.sizes}))]

    def ties(self, values: Sequence[int]) -> list[tuple[Group, tuple[Slot, ...]]]:
        """Return which lengths are made of which slots: complete ones by themselves, the others together."""
        left: dict[tuple[int, int], list[int]] = {}
        for place in reversed(range(len(self.group.lengths))):
            left.setdefault(self._size_of(place), []).append(place)
        found, rest, slots = [], [], self._slots_summed(values)
        for number, making in enumerate(self.makings):
            begun = tuple(
                slot for slot, many in zip(self.kinds, making.ends, strict=True) for _ in range(many)
            )
            for _ in range(values[self.first + number]):
                place = left[self.sizes[making.size][0]].pop()
                if making.wanted:
                    rest.append(place)
                    slots += begun
                else:
                    found.append((self.group.only([place]), begun))
        return [*found, (self.group.only(rest), tuple(slots))] if rest else found

    def _size_of(self, place: int) -> tuple[int, int]:
        return self.group.lengths[place], self.group.least_ends[place]

    def _long_enough(self, least_end: int) -> Row:
        """Ends that are long enough make up what those lengths want whose ends may not be shorter."""
        loss = self.group.loss
        row = {
            self._summed(n): slot.room - loss for n, slot in enumerate(self.kinds) if slot.room >= least_end
        }
        row |= {
            self.first + n: -each.wanted
            for n, each in enumerate(self.makings)
            if self.sizes[each.size][0][1] >= least_end
        }
        if least_end == self.group.least_end:
            row |= {self._cuts: -loss, self.spare: -1}
        return Row(row, least=0)

    def _makings_of(self, size: int) -> list[Making]:
        found = list(islice(self._begun(size), MOST_MAKINGS + 1))
        return found if len(found) <= MOST_MAKINGS else [self._making(size, [0] * len(self.kinds))]

    def _begun(self, size: int) -> Iterator[Making]:
        along = [n for n, slot in enumerate(self.kinds) if slot.lengthwise]
        (length, least_end), _ = self.sizes[size]
        for counts in self._counts(along, length - self.group.loss, least_end):
            ends = [0] * len(self.kinds)
            for kind, many in counts:
                ends[kind] = many
            yield self._making(size, ends)

    def _making(self, size: int, ends: Sequence[int]) -> Making:
        (length, least_end), _ = self.sizes[size]
        loss = self.group.loss
        given = sum((slot.room - loss) * many for slot, many in zip(self.kinds, ends, strict=True))
        left = length - loss - given
        wanted = max(left, least_end - loss, 1) if left > 0 else 0
        longest = max((slot.room - loss for slot in self.kinds if not slot.lengthwise), default=0)
        return Making(size, tuple(ends), wanted, -(-wanted // longest) if longest > 0 else 0)

    def _counts(self, along: Sequence[int], wanted: int, least_end: int) -> Iterator[list[tuple[int, int]]]:
        """Yield how many ends of each kind, none of them needless."""
        if not along or wanted <= 0:
            yield []
            return
        room = self.kinds[along[-1]].room
        gain = room - self.group.loss if room >= least_end else 0
        for many in range(-(-wanted // gain) + 1 if gain > 0 else 1):
            for counts in self._counts(along[:-1], wanted - many * gain, least_end):
                yield [*counts, (along[-1], many)]

    def _slots_summed(self, values: Sequence[int]) -> list[Slot]:
        return [slot for n, slot in enumerate(self.kinds) for _ in range(values[self._summed(n)])]

    @cached_property
    def _sums_all(self) -> bool:
        along = any(slot.lengthwise for slot in self.kinds)
        return along and any(len(self._makings_of(size)) == 1 for size in range(len(self.sizes)))

    def _most_summed(self, kind: Slot) -> int:
        if kind.lengthwise and not self._sums_all:
            return 0
        gained = max(1, kind.room - self.group.loss)
        return sum(-(-length // gained) * count for (length, _), count in self.sizes) + len(
            self.group.lengths
        )

    @property
    def _enough_for_a_row(self) -> int:
        return (len(self.group.lengths) - 1) * (self.group.loss + max(self.group.least_ends))

    def _summed(self, kind: int) -> int:
        return self.first + len(self.makings) + kind

    @property
    def _cuts(self) -> int:
        return self._summed(len(self.kinds))
