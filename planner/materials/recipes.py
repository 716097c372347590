"""Which slots together give which joined lengths: the lengths laid out one after the other."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import islice, product

from .fills import Group
from .joining import Slot
from .programme import Row

MOST_RECIPES = 1_500
LONG = 6  # times the longest slot


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

    Recipes tie up to `tied` lengths together. More than that, and what is tied to a very long one, goes
    into pools: each has columns for its lengths by size, its slots by kind, and how many ties it is.
    """

    group: Group
    sizes: tuple[tuple[tuple[int, int], int], ...]
    kinds: tuple[Slot, ...]
    recipes: tuple[Recipe, ...]
    first: int
    tied: int
    spare: int

    @property
    def most(self) -> list[int]:
        """How often each column can be used at the most."""
        counts = [count for _, count in self.sizes]
        once = [
            min(count // many for count, many in zip(counts, recipe.lengths, strict=True) if many)
            for recipe in self.recipes
        ]
        pools = [
            [*counts, *map(self._most_slots, self.kinds), 1 if long is not None else self._ties_of_many]
            for long in self._pools
        ]
        return [*once, *(most for pool in pools for most in pool)]

    def rows(self, given: Sequence[Mapping[int, int]]) -> list[Row]:
        """Every length is made, out of the slots of each kind that the other columns give."""
        found, pools = [], range(len(self._pools))
        for size, (_, count) in enumerate(self.sizes):
            made = {self.first + n: each.lengths[size] for n, each in enumerate(self.recipes)}
            pooled = {self._pooled(pool, size): 1 for pool in pools}
            found.append(Row({**made, **pooled}, least=count, most=count))
        for kind, slots in enumerate(given):
            taken = {self.first + n: each.slots[kind] for n, each in enumerate(self.recipes)}
            taken |= {self._pooled_slots(pool, kind): 1 for pool in pools}
            found.append(Row({**taken, **{n: -count for n, count in slots.items()}}, most=0))
        return [*found, *(row for pool in pools for row in self._pool(pool))]

    def ties(self, values: Sequence[int]) -> list[tuple[Group, tuple[Slot, ...]]]:
        """Return which lengths are made out of which slots, tie by tie."""
        left = {size: self._of_size(size) for size, _ in self.sizes}
        made = [each for n, each in enumerate(self.recipes) for _ in range(values[self.first + n])]
        pooled = [
            Recipe(
                tuple(values[self._pooled(pool, n)] for n in range(len(self.sizes))),
                tuple(values[self._pooled_slots(pool, n)] for n in range(len(self.kinds))),
            )
            for pool in range(len(self._pools))
        ]
        found = []
        for recipe in [*made, *pooled]:
            counts = zip(self.sizes, recipe.lengths, strict=True)
            taken = [left[size].pop() for (size, _), many in counts for _ in range(many)]
            slots = zip(self.kinds, recipe.slots, strict=True)
            if taken:
                found.append(
                    (self.group.only(taken), tuple(slot for slot, many in slots for _ in range(many)))
                )
        return found

    @cached_property
    def _pools(self) -> tuple[int | None, ...]:
        """A pool for each very long length, by its size, and one for ties of many."""
        if not self.tied:
            return (None,)
        longest = max((slot.room for slot in self.kinds), default=0)
        long = [
            n
            for n, ((length, _), count) in enumerate(self.sizes)
            if length > LONG * longest
            for _ in range(count)
        ]
        return (*long, None) if self._ties_of_many else tuple(long)

    @property
    def _ties_of_many(self) -> int:
        return sum(count for _, count in self.sizes) // (self.tied + 1) if self.tied else 1

    def _most_slots(self, kind: Slot) -> int:
        return 0 if not self.tied and kind.lengthwise else MOST_RECIPES

    def _of_size(self, size: tuple[int, int]) -> list[int]:
        return [n for n, each in enumerate(_sizes(self.group)) if each == size][::-1]

    def _pool(self, pool: int) -> list[Row]:
        loss, long, ties = self.group.loss, self._pools[pool], self._pooled_slots(pool, len(self.kinds))
        rooms = {self._pooled_slots(pool, n): slot.room - loss for n, slot in enumerate(self.kinds)}
        lengths = {
            self._pooled(pool, n): -length - self.spare for n, ((length, _), _) in enumerate(self.sizes)
        }
        enough = Row({**rooms, **lengths, ties: loss + self.spare}, least=0)
        if long is None:
            counts = {self._pooled(pool, n): 1 for n in range(len(self.sizes))}
            return [enough, Row({**counts, ties: -self.tied - 1}, least=0)]
        only_with_it = [
            Row({self._pooled(pool, n): 1, ties: -count}, most=0) for n, (_, count) in enumerate(self.sizes)
        ]
        (length, least_end), _ = self.sizes[long]
        serving = {
            self._pooled_slots(pool, n): slot.room - loss
            for n, slot in enumerate(self.kinds)
            if slot.room >= least_end
        }
        by_itself = Row({**serving, ties: loss - length}, least=0)
        return [enough, by_itself, *only_with_it, Row({self._pooled(pool, long): 1, ties: -1}, least=0)]

    def _pooled(self, pool: int, size: int) -> int:
        width = len(self.sizes) + len(self.kinds) + 1
        return self.first + len(self.recipes) + pool * width + size

    def _pooled_slots(self, pool: int, kind: int) -> int:
        return self._pooled(pool, len(self.sizes)) + kind


def recipes_for(group: Group, kinds: Sequence[Slot], first: int, *, spare: int) -> Recipes:
    """Return the recipes that tie as many lengths together as can still be listed.

    `spare` is asked for on top of each length that is tied to another, so that ends can be moved along.
    """
    sizes = tuple(sorted(Counter(_sizes(group)).items(), reverse=True))
    for tied in (3, 2):
        found = list(islice(_recipes(group, sizes, kinds, (tied, spare)), MOST_RECIPES + 1))
        if len(found) <= MOST_RECIPES:
            return Recipes(group, sizes, tuple(kinds), tuple(found), first, tied, spare)
    found = list(islice(_recipes(group, sizes, kinds, (1, spare)), MOST_RECIPES + 1))
    return Recipes(group, sizes, tuple(kinds), tuple(found), first, 1, spare)


def plain_recipes(group: Group, kinds: Sequence[Slot], first: int) -> Recipes:
    """Return the recipes of a quick plan: a length whole along the cloth, all others tied in one row."""
    sizes = tuple(sorted(Counter(_sizes(group)).items(), reverse=True))
    found = tuple(
        Recipe(
            tuple(int(n == size) for n in range(len(sizes))), tuple(int(n == kind) for n in range(len(kinds)))
        )
        for size, ((length, _), _) in enumerate(sizes)
        for kind, slot in enumerate(kinds)
        if slot.lengthwise and slot.room >= length
    )
    return Recipes(group, sizes, tuple(kinds), found, first, 0, max(group.least_ends))


def _recipes(
    group: Group,
    sizes: Sequence[tuple[tuple[int, int], int]],
    kinds: Sequence[Slot],
    tied_and_spare: tuple[int, int],
) -> Iterator[Recipe]:
    tied, spare = tied_and_spare
    longest = max((slot.room for slot in kinds), default=0)
    counts = [0 if length > LONG * longest else min(count, tied) for (length, _), count in sizes]
    for many in product(*(range(count + 1) for count in counts)):
        if 1 <= sum(many) <= tied:
            made = [size for (size, _), times in zip(sizes, many, strict=True) for _ in range(times)]
            for slots in _slots_for(group, kinds, made, spare=spare):
                yield Recipe(many, slots)


def _sizes(group: Group) -> list[tuple[int, int]]:
    return list(zip(group.lengths, group.least_ends, strict=True))


def _slots_for(
    group: Group, kinds: Sequence[Slot], sizes: Sequence[tuple[int, int]], *, spare: int
) -> Iterator[tuple[int, ...]]:
    """Yield the counts of slots that these lengths can be made of; too short a slot serves none of them."""
    least = max(group.loss + 1, min(least_end for _, least_end in sizes))
    gains = [(slot.room - group.loss, n) for n, slot in enumerate(kinds) if slot.room >= least]
    gains.sort(reverse=True)
    missing = sum(length for length, _ in sizes) - group.loss + spare * (len(sizes) - 1)
    for taken in _covers(gains, max(1, missing)):
        slots = [0] * len(kinds)
        for (_, number), many in zip(gains, taken, strict=False):
            slots[number] = many
        yield tuple(slots)


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
