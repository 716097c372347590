"""The least that must be bought, proved; then the least length; then the fewest different strips."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from types import MappingProxyType

from planner.problems import Limit

from .assembly import Unjoined, assemble
from .branches import Branch, Branches
from .cloth import Strip
from .fills import Fill, Task
from .loose import Loose
from .programme import Programme, Row, Solved, solve
from .strip_rows import StripRows
from .tied import Tied, tied

FEW = 4
MOST_TOLD_APART = 350
MOST_ALIKE = 10_000
MOST_ROUNDS = 100
A_MOMENT = 3
LEAST_FOR_PARTS = 20  # less is spent on one look at the whole
A_WHILE = 10
MOST_WEIGHT = 256
NOTHING: Mapping[int, Tied] = MappingProxyType({})
TIDYING = 16  # the share of the effort that goes into what does not change the price


@dataclass(frozen=True)
class Found:
    """The strips of the best plan found, and the least steps that any plan of these fills buys.

    `strips` None: none was found.
    """

    strips: tuple[Strip, ...] | None
    least_steps: int


def best_strips(task: Task, fills: Sequence[Fill], limit: Limit, *, least: int | None) -> Found:
    """Search the fills for the cheapest plan, then the shortest, then the one of fewest kinds of strip.

    Joined lengths are counted loosely at first, which never asks for too much. Where they cannot be made
    of the strips found, that way is excluded and the search goes on. `least` is the least steps to buy
    where the fills are not all there are.
    """
    effort = limit.effort or MOST_ALIKE
    search = _Search(StripRows(task, fills), effort, limit.seconds)
    found = search.cheapest(least)
    if found.strips and least is None:
        search.effort = min(search.effort, effort // TIDYING)
        found = Found(search.tidied(found.strips), found.least_steps)
    return found


def _length_of(strips: tuple[Strip, ...]) -> tuple[int, int]:
    bought = sum(strip.height for strip in strips if strip.source is None)
    return bought, sum(strip.height for strip in strips)


@dataclass
class _Search:
    """The programme of the strips and the effort left for it; `sound` while every exclusion is proved."""

    strips: StripRows
    effort: int
    seconds: float | None
    sound: bool = True
    too_many_from: dict[int, int] = field(default_factory=dict)  # to spare, by the number of the group

    @property
    def _can_be_parted(self) -> bool:
        return len(self.strips.fills) <= MOST_TOLD_APART and self.effort >= LEAST_FOR_PARTS

    @cached_property
    def _branches(self) -> Branches:
        return Branches(self.strips)

    def cheapest(self, least: int | None) -> Found:
        """Return the strips that buy the fewest steps, and the least steps there can be.

        What is not settled in a while is looked at again once there is an answer.
        """
        cloth = self.strips.task.cloth
        longest = cloth.gives(self._most_steps * cloth.step) if self._can_be_parted else 0
        cases = self._branches.all_of(longest)
        fewest = cloth.to_buy(min(case.least for case in cases)) // cloth.step if least is None else least
        most = self._most_steps if self.strips.bought else fewest
        best, still_open = None, dict[int, list[Branch]]()
        for steps in range(fewest, most + 1):
            best, left = self._in_parts(steps, cases)
            if best:
                break
            still_open[steps] = left
            if self.effort < 1:
                break
        for steps, left in still_open.items():
            found, left = self._looked(steps, left, self.effort)
            if found or left:
                return Found(found or best, steps if least is None else least)
        return Found(best, fewest + len(still_open) if least is None else least)

    def tidied(self, known: tuple[Strip, ...]) -> tuple[Strip, ...]:
        """Return strips of few kinds for the same money, else of less length, else those known."""
        cloth = self.strips.task.cloth
        for uses in self._shortest(cloth.to_buy(_length_of(known)[0]) // cloth.step):
            strips = self._joined(uses)
            if not isinstance(strips, Unjoined):
                return strips if self._kinds(uses) <= FEW else min(strips, known, key=_length_of)
        return known

    def _in_parts(self, steps: int, cases: Sequence[Branch]) -> tuple[tuple[Strip, ...] | None, list[Branch]]:
        """Look at every case for a moment, then at the parts of those still open."""
        few = self._can_be_parted
        strips, left = self._looked(steps, cases, A_MOMENT if few else A_WHILE)
        if strips or not left or not few:
            return strips, left
        length = self.strips.task.cloth.gives(steps * self.strips.task.cloth.step)
        before = self._branches.effort
        every = [part for case in left for part in self._branches.parts(case, length, self.effort // 4)]
        self.effort -= self._branches.effort - before
        return self._looked(steps, every, A_WHILE)

    def _looked(
        self, steps: int, cases: Sequence[Branch], effort: int
    ) -> tuple[tuple[Strip, ...] | None, list[Branch]]:
        """Return strips that buy so many steps, None when none were found, and the cases still open."""
        length = self.strips.task.cloth.gives(steps * self.strips.task.cloth.step)
        left: list[Branch] = []
        for case in (case for case in cases if case.least <= length):
            strips, is_proved = self._attempted(steps, case, effort)
            if strips:
                return strips, left
            if not is_proved or not self.sound:
                left.append(case)
        return None, left

    def _attempted(self, steps: int, case: Branch, effort: int) -> tuple[tuple[Strip, ...] | None, bool]:
        """Look for strips in one case.

        The ends are made as long as can be, those of all groups alike at first. Where some could still
        not be joined, their lengths are counted exactly, or where that takes too many columns, that way
        is excluded and more is asked of those ends.
        """
        weights = [1] * len(self.strips.groups)
        within = [self.strips.within(steps), *case.rows]
        too_many: set[int] = set()
        for _ in range(MOST_ROUNDS):
            found = self._loosest([*self.strips.rows, *within], weights, effort)
            if found is None or found.uses is None:
                return None, found is not None and found.settled
            strips = self._joined(found.uses)
            if not isinstance(strips, Unjoined):
                return strips, False
            if not too_many & set(strips.proved) and self.effort >= LEAST_FOR_PARTS:
                exactly = self._counted_exactly(within, set(strips.proved), effort)
                if exactly is not None:
                    return exactly
                too_many |= set(strips.proved)
            self._exclude(strips, found.uses)
            weights = [
                min(weight * 4, MOST_WEIGHT) if n in strips.proved else weight
                for n, weight in enumerate(weights)
            ]
        return None, False

    def _counted_exactly(
        self, within: Sequence[Row], numbers: set[int], effort: int
    ) -> tuple[tuple[Strip, ...] | None, bool] | None:
        """Return the strips when these groups' lengths are made tie by tie; None where ties are too many."""
        known: dict[int, Tied] = {}
        while self.effort > 0:
            for number in sorted(numbers - set(known)):
                ties = self._ties_of(number, within)
                if ties is None:
                    return None
                known[number] = ties
            found = self._tied(within, known, effort)
            if found.uses is None:
                return (None, found.settled) if all(ties.sound for ties in known.values()) else None
            fewer = {number: ties.without_unjoined(found.uses) for number, ties in known.items()}
            if any(fewer.values()):
                known |= {number: ties for number, ties in fewer.items() if ties}
                continue
            strips = self._joined(found.uses, known)
            if not isinstance(strips, Unjoined):
                return strips, False
            if set(strips.proved) <= numbers:
                return None
            numbers = numbers | set(strips.proved)
        return None, False

    def _tied(self, within: Sequence[Row], known: dict[int, Tied], effort: int) -> Solved:
        rows, most = [*self.strips.rows, *within], list(self.strips.most)
        for number, ties in known.items():
            ties.first = len(most)
            most += ties.most
            rows += ties.rows(self.strips.slots(number))
        return self._solve([0] * len(most), most, rows, effort=effort)

    def _ties_of(self, number: int, within: Sequence[Row]) -> Tied | None:
        """Return the ties of a group that lose no more than can be to spare; None where that is open."""
        costs = [0] * len(self.strips.most)
        for column, gain in self.strips.to_spare(number).items():
            costs[column] = -gain
        found = self._solve(costs, self.strips.most, [*self.strips.rows, *within], effort=A_WHILE)
        if found.uses is None:
            return None
        loose = self.strips.groups[number]
        spare = -found.least - sum(length - loose.group.loss for length in loose.group.lengths)
        if spare >= self.too_many_from.get(number, spare + 1):
            return None
        ties = tied(loose.group, loose.kinds, spare)
        if ties is None:
            self.too_many_from[number] = spare
        return ties

    def _exclude(self, unjoined: Unjoined, uses: Sequence[int]) -> None:
        """Exclude what is proved not to work; only where nothing is, what was seen not to."""
        proved = [number for number, is_proved in unjoined.proved.items() if is_proved]
        self.sound &= bool(proved)
        for number in proved or unjoined.proved:
            self.strips.exclude(number, uses)

    def _loosest(self, rows: Sequence[Row], weights: Sequence[int], effort: int) -> Solved | None:
        if self.effort < 1:
            return None
        if not weights:
            return self._solve(self.strips.lengths, self.strips.most, rows, effort=effort)
        costs = [0] * len(self.strips.most)
        for weight, group in zip(weights, self.strips.groups, strict=True):
            costs[group.spare] = -weight
        return self._solve(costs, self.strips.most, rows, effort=effort)

    def _joined(
        self, uses: Sequence[int], exactly: Mapping[int, Tied] = NOTHING
    ) -> tuple[Strip, ...] | Unjoined:
        self.effort -= 1
        groups: dict[int, Loose | Tied] = {**dict(enumerate(self.strips.groups)), **exactly}
        ties = {number: group.ties(uses) for number, group in groups.items()}
        return assemble(self.strips.task, self.strips.fills, uses, ties=ties)

    def _shortest(self, steps: int) -> Iterator[Sequence[int]]:
        """Yield uses of least length within so many steps, those in few kinds first."""
        rows = [*self.strips.rows, self.strips.within(steps)]
        lengths = self.strips.lengths
        short = self._solve(lengths, self.strips.most, rows).uses if self.effort > 0 else None
        if short is None:
            return
        if len(self.strips.fills) <= MOST_TOLD_APART:
            length = sum(cost * uses for cost, uses in zip(lengths, short, strict=True))
            alike = self._few_kinds([*rows, Row(dict(enumerate(lengths)), most=length)], short)
            if self._kinds(alike) > FEW:
                yield self._at_most_four_kinds(rows) or alike
            yield alike
        yield short

    def _few_kinds(self, rows: Sequence[Row], best: Sequence[int]) -> Sequence[int]:
        if self._kinds(best) <= 1 or self.effort < 1:
            return best
        last, count = len(self.strips.most), len(self.strips.fills)
        costs = [*[0] * last, *[1] * count]
        return self._solve(costs, self._most_and_kinds, [*rows, *self._kind_rows]).uses or best

    def _at_most_four_kinds(self, rows: Sequence[Row]) -> Sequence[int] | None:
        if self.effort < 1:
            return None
        last, count = len(self.strips.most), len(self.strips.fills)
        few = Row({last + n: 1 for n in range(count)}, most=FEW)
        costs = [*self.strips.lengths, *[0] * count]
        return self._solve(costs, self._most_and_kinds, [*rows, *self._kind_rows, few]).uses

    @property
    def _kind_rows(self) -> list[Row]:
        most = self.strips.most
        return [Row({n: 1, len(most) + n: -most[n]}, most=0) for n in range(len(self.strips.fills))]

    @property
    def _most_and_kinds(self) -> list[int]:
        return [*self.strips.most, *[1] * len(self.strips.fills)]

    def _kinds(self, uses: Sequence[int]) -> int:
        return sum(1 for each in uses[: len(self.strips.fills)] if each)

    def _solve(
        self, costs: Sequence[int], most: Sequence[int], rows: Sequence[Row], *, effort: int = 0
    ) -> Solved:
        given = max(1, min(self.effort, effort or self.effort))
        answer = solve(Programme(costs, most, rows), effort=given, seconds=self.seconds)
        self.effort -= answer.effort
        return answer

    @property
    def _most_steps(self) -> int:
        return self.strips.task.cloth.to_buy(self.strips.task.tallest) // self.strips.task.cloth.step
