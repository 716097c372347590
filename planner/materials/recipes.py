"""Which slots together give which joined lengths: the lengths laid out one after the other."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product

from .fills import Group
from .joining import Slot
from .programme import Row

MOST_RECIPES = 3_000
MOST_TIED = 3


@dataclass(frozen=True)
class Recipe:
    """So many lengths of each size out of so many slots of each kind, laid end to end.

    Slots that lengths share tie these together; what is tied together loses a join for every slot but
    one. No end's least length is looked at, so a recipe never asks for too much.
    """

    lengths: tuple[int, ...]
    slots: tuple[int, ...]


@dataclass(frozen=True)
class Recipes:
    """The recipes of one group as columns of a programme, numbered from `first` on.

    Recipes tie up to three lengths together. More than that are pooled: then come columns for the
    pooled lengths by size, for the pooled slots by kind, and for how many ties of four and more these
    are at the most.
    """

    group: Group
    sizes: tuple[tuple[int, int], ...]
    kinds: tuple[Slot, ...]
    recipes: tuple[Recipe, ...]
    first: int

    @property
    def most(self) -> list[int]:
        """How often each column can be used at the most."""
        counts = [count for _, count in self.sizes]
        once = [
            min(count // many for count, many in zip(counts, recipe.lengths, strict=True) if many)
            for recipe in self.recipes
        ]
        pooled = counts if sum(counts) > MOST_TIED else [0] * len(counts)
        return [*once, *pooled, *[MOST_RECIPES] * len(self.kinds), sum(pooled) // (MOST_TIED + 1)]

    def rows(self, given: Sequence[Mapping[int, int]]) -> list[Row]:
        """Every length is made, out of the slots of each kind that the other columns give."""
        found = []
        for size, (_, count) in enumerate(self.sizes):
            made = {self.first + n: each.lengths[size] for n, each in enumerate(self.recipes)}
            found.append(Row({**made, self._pooled(size): 1}, least=count, most=count))
        for kind, slots in enumerate(given):
            taken = {self.first + n: each.slots[kind] for n, each in enumerate(self.recipes)}
            taken[self._pooled_slots(kind)] = 1
            found.append(Row({**taken, **{n: -count for n, count in slots.items()}}, most=0))
        return [*found, *self._pool()]

    def ties(self, values: Sequence[int]) -> list[tuple[Group, tuple[Slot, ...]]]:
        """Return which lengths are made out of which slots, tie by tie."""
        left = {size: self._of_size(size) for size, _ in self.sizes}
        used = [(each, values[self.first + n]) for n, each in enumerate(self.recipes)]
        pooled = Recipe(
            tuple(values[self._pooled(n)] for n in range(len(self.sizes))),
            tuple(values[self._pooled_slots(n)] for n in range(len(self.kinds))),
        )
        found = []
        for recipe in [*(each for each, many in used for _ in range(many)), pooled]:
            taken = [
                left[size].pop() for (size, _), many in zip(self.sizes, recipe.lengths, strict=True)
                for _ in range(many)
            ]  # fmt: skip
            slots = tuple(
                kind for kind, many in zip(self.kinds, recipe.slots, strict=True) for _ in range(many)
            )
            if taken:
                lengths = tuple(self.group.lengths[n] for n in taken)
                ribbons = tuple(self.group.ribbons[n] for n in taken)
                found.append((replace(self.group, ribbons=ribbons, lengths=lengths), slots))
        return found

    def _of_size(self, size: int) -> list[int]:
        return [n for n, length in enumerate(self.group.lengths) if length == size][::-1]

    def _pool(self) -> list[Row]:
        loss, ties = self.group.loss, self._pooled_slots(len(self.kinds))
        rooms = {self._pooled_slots(n): slot.room - loss for n, slot in enumerate(self.kinds)}
        lengths = {self._pooled(n): -length for n, (length, _) in enumerate(self.sizes)}
        counts = {self._pooled(n): 1 for n in range(len(self.sizes))}
        enough = Row({**rooms, **lengths, ties: loss}, least=0)
        return [enough, Row({**counts, ties: -MOST_TIED - 1}, least=0)]

    def _pooled(self, size: int) -> int:
        return self.first + len(self.recipes) + size

    def _pooled_slots(self, kind: int) -> int:
        return self._pooled(len(self.sizes)) + kind


def recipes_for(group: Group, kinds: Sequence[Slot], first: int) -> Recipes | None:
    """Return every recipe that could be of use, or None when there are too many."""
    sizes = tuple(sorted(Counter(group.lengths).items(), reverse=True))
    gains = [(slot.room - group.loss, number) for number, slot in enumerate(kinds) if slot.room > group.loss]
    gains.sort(reverse=True)
    found: list[Recipe] = []
    for lengths in product(*(range(min(count, MOST_TIED) + 1) for _, count in sizes)):
        if not 1 <= sum(lengths) <= MOST_TIED:
            continue
        missing = sum(length * many for (length, _), many in zip(sizes, lengths, strict=True)) - group.loss
        for taken in _covers(gains, max(1, missing)):
            slots = [0] * len(kinds)
            for (_, number), many in zip(gains, taken, strict=False):
                slots[number] = many
            found.append(Recipe(lengths, tuple(slots)))
            if len(found) > MOST_RECIPES:
                return None
    return Recipes(group, sizes, tuple(kinds), tuple(found), first)


def _covers(gains: Sequence[tuple[int, int]], missing: int) -> Iterator[list[int]]:
    """Yield counts per slot that make up what is missing, none of which could go without a slot."""
    if not gains:
        return
    gain = gains[0][0]
    enough = -(-missing // gain)
    yield [enough]
    for many in range(enough - 1, -1, -1):
        for rest in _covers(gains[1:], missing - many * gain):
            yield [many, *rest]
