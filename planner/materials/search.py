"""The least that must be bought, proved; then the least length; then the fewest different strips."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from planner.problems import Limit

from .assembly import Unjoined, assemble
from .cloth import Strip
from .fills import Fill, Task
from .programme import Programme, Row, Solved, solve
from .strip_rows import StripRows

FEW = 4
MOST_TOLD_APART = 350
MOST_ALIKE = 10_000
MOST_ROUNDS = 100
A_WHILE = 10
MOST_WEIGHT = 256
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
    """The programme of the strips, and the effort that is left for it.

    `sound` as long as every exclusion is proved.
    """

    strips: StripRows
    effort: int
    seconds: float | None
    sound: bool = True

    def cheapest(self, least: int | None) -> Found:
        """Return the strips that buy the fewest steps, and the least steps there can be."""
        paid = self._least_steps() if least is None else Solved(None, least, settled=False, effort=0)
        bound, uses = paid.least, paid.uses
        for steps in range(uses[-1] if uses else bound, self._most_steps + 1):
            strips, is_proved = self._within(steps, uses[:-1] if uses else None)
            if strips or self.effort < 1:
                return Found(strips, bound)
            if is_proved and steps == bound and least is None:
                bound += 1
            uses = None
        return Found(None, bound)

    def tidied(self, known: tuple[Strip, ...]) -> tuple[Strip, ...]:
        """Return strips of few kinds for the same money, else of less length, else those known."""
        cloth = self.strips.task.cloth
        for uses in self._shortest(cloth.to_buy(_length_of(known)[0]) // cloth.step):
            strips = self._joined(uses)
            if not isinstance(strips, Unjoined):
                return strips if self._kinds(uses) <= FEW else min(strips, known, key=_length_of)
        return known

    def _least_steps(self) -> Solved:
        """Return the uses, and as the last of them the steps bought."""
        cloth, most = self.strips.task.cloth, self.strips.most
        last = len(most)
        bought = {n: 1000 * height for n, height in self.strips.bought.items()}
        washed = -cloth.step * (1000 - cloth.shrinkage)
        paid = Row({**bought, last: washed, last + 1: 1000 * cloth.squaring}, most=0)
        squared = Row({last: 1, last + 1: -self._most_steps}, most=0)
        rows = [*self.strips.rows, paid, squared]
        answer = self._solve([*[0] * last, 1, 0], [*most, self._most_steps, 1], rows)
        return replace(answer, uses=answer.uses[:-1]) if answer.uses else answer

    def _within(self, steps: int, uses: Sequence[int] | None) -> tuple[tuple[Strip, ...] | None, bool]:
        """Return strips that buy so many steps, None when none were found, and whether there are none.

        The ends are made as long as can be, those of all groups alike at first, then more of those that
        could still not be joined.
        """
        weights = [1] * len(self.strips.groups)
        for _ in range(MOST_ROUNDS):
            if uses is not None:
                strips = self._joined(uses)
                if not isinstance(strips, Unjoined):
                    return strips, False
                self._exclude(strips, uses)
                weights = [
                    min(weight * 4, MOST_WEIGHT) if n in strips.proved else weight
                    for n, weight in enumerate(weights)
                ]
            found = self._loosest(steps, weights)
            if found is None or found.uses is None:
                return None, found is not None and found.settled and self.sound
            uses = found.uses
        return None, False

    def _exclude(self, unjoined: Unjoined, uses: Sequence[int]) -> None:
        """Exclude what is proved not to work; only where nothing is, what was seen not to."""
        proved = [number for number, is_proved in unjoined.proved.items() if is_proved]
        self.sound &= bool(proved)
        for number in proved or unjoined.proved:
            self.strips.exclude(number, uses)

    def _loosest(self, steps: int, weights: Sequence[int]) -> Solved | None:
        if self.effort < 1:
            return None
        rows, most = [*self.strips.rows, self.strips.within(steps)], self.strips.most
        if not weights:
            return self._solve(self.strips.lengths, most, rows)
        costs = [0] * len(most)
        for weight, group in zip(weights, self.strips.groups, strict=True):
            costs[group.spare] = -weight
        quick = self._solve(costs, most, rows, effort=A_WHILE)
        return quick if quick.uses or quick.settled else self._solve(costs, most, rows)

    def _joined(self, uses: Sequence[int]) -> tuple[Strip, ...] | Unjoined:
        self.effort -= 1
        ties = {number: group.ties(uses) for number, group in enumerate(self.strips.groups)}
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
