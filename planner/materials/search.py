"""The least that must be bought, proved; then the least length; then the fewest different strips."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import gcd

from planner.problems import Limit

from .assembly import Unjoined, assemble
from .cloth import Strip
from .fills import Fill, Group, Task
from .programme import Programme, Row, Solved, solve

FEW = 4
MOST_ALIKE = 10_000


@dataclass(frozen=True)
class Found:
    """The strips of the best plan found, and the least steps that any plan of these fills buys.

    `strips` None: none was found, or, where `settled`, there is none.
    """

    strips: tuple[Strip, ...] | None
    least_steps: int
    settled: bool


def best_strips(task: Task, fills: Sequence[Fill], limit: Limit) -> Found:
    """Search the fills for the cheapest plan, then the shortest, then the one of fewest kinds of strip."""
    search = _Search(task, fills, limit.effort or MOST_ALIKE, limit.seconds)
    paid = search.least_steps()
    if paid.uses is None:
        return Found(None, paid.least, paid.settled)
    steps = paid.uses[-1]
    while True:
        strips = assemble(task, fills, search.shortest(steps, instead=paid.uses[:-1]))
        if not isinstance(strips, Unjoined):
            return Found(strips, paid.least, paid.settled)
        if not search.ask_more_of(strips.groups):
            return Found(None, paid.least, settled=False)
        longer = search.least_steps()
        if longer.uses is None:
            return Found(None, paid.least, settled=False)
        steps = longer.uses[-1]


@dataclass
class _Search:
    """The programme over the fills, and the effort that is left for it.

    `apart` counts per group by how many joins more than the least the rows ask for: ends of equal
    lengths often cannot be shared out without one.
    """

    task: Task
    fills: Sequence[Fill]
    effort: int
    seconds: float | None
    apart: dict[int, int] = field(default_factory=dict)

    def least_steps(self) -> Solved:
        """Return the uses, and as the last of them the steps bought."""
        step = self.task.cloth.step
        paid = Row({**self._bought(), len(self.fills): -step}, most=0)
        return self._solve(
            [*[0] * len(self.fills), 1], [*self._most(), self.task.tallest // step + 1], [*self._rows(), paid]
        )

    def shortest(self, steps: int, *, instead: Sequence[int]) -> Sequence[int]:
        """Return the uses of least length within so many steps, in few kinds; `instead` if none is found."""
        rows = [*self._rows(), Row(self._bought(), most=steps * self.task.cloth.step)]
        lengths = self._lengths()
        short = self._solve(lengths, self._most(), rows)
        best = short.uses or instead
        length = sum(cost * uses for cost, uses in zip(lengths, best, strict=True))
        alike = self._few_kinds([*rows, Row(dict(enumerate(lengths)), most=length)], best)
        if _kinds(alike) <= FEW:
            return alike
        return self._at_most_four_kinds(rows) or alike

    def ask_more_of(self, groups: Sequence[int]) -> bool:
        """Ask for one more join in each of these groups; False where every length has its own already."""
        for number in groups:
            self.apart[number] = self.apart.get(number, 0) + 1
        return all(self.apart[number] < len(self.task.groups[number].lengths) for number in groups)

    def _few_kinds(self, rows: Sequence[Row], best: Sequence[int]) -> Sequence[int]:
        if _kinds(best) <= 1 or self.effort < 1:
            return best
        count = len(self.fills)
        found = self._solve([0] * count + [1] * count, self._most_and_kinds(), [*rows, *self._kind_rows()])
        return found.uses[:count] if found.uses else best

    def _at_most_four_kinds(self, rows: Sequence[Row]) -> Sequence[int] | None:
        if self.effort < 1:
            return None
        count = len(self.fills)
        few = Row({count + n: 1 for n in range(count)}, most=FEW)
        costs = [*self._lengths(), *[0] * count]
        found = self._solve(costs, self._most_and_kinds(), [*rows, *self._kind_rows(), few])
        return found.uses[:count] if found.uses else None

    def _kind_rows(self) -> list[Row]:
        count = len(self.fills)
        return [Row({n: 1, count + n: -most}, most=0) for n, most in enumerate(self._most())]

    def _most_and_kinds(self) -> list[int]:
        return [*self._most(), *[1] * len(self.fills)]

    def _solve(self, costs: Sequence[int], most: Sequence[int], rows: Sequence[Row]) -> Solved:
        answer = solve(Programme(costs, most, rows), effort=max(1, self.effort), seconds=self.seconds)
        self.effort -= answer.effort
        return answer

    def _bought(self) -> dict[int, int]:
        return {n: fill.height for n, fill in enumerate(self.fills) if fill.source is None}

    def _lengths(self) -> list[int]:
        """The heights as costs; what is bought counts for more than all that is on hand."""
        unit = gcd(*(fill.height for fill in self.fills))
        all_on_hand = sum(piece.height for piece in self.task.cloth.on_hand) // unit
        return [fill.height // unit * (all_on_hand + 1 if fill.source is None else 1) for fill in self.fills]

    def _most(self) -> list[int]:
        return [self.task.most_of(fill) for fill in self.fills]

    def _rows(self) -> list[Row]:
        rows = [
            Row({n: fill.pieces(item) for n, fill in enumerate(self.fills) if fill.pieces(item)}, least=count)
            for item, count in self.task.wanted.items()
        ]
        for number, group in enumerate(self.task.groups):
            rows += self._joined(number, group)
        for source, piece in enumerate(self.task.cloth.on_hand):
            cut = {n: fill.height for n, fill in enumerate(self.fills) if fill.source == source}
            rows.append(Row(cut, most=piece.height))
        return rows

    def _joined(self, number: int, group: Group) -> list[Row]:
        """Every end but one of each length loses a join; and no length has fewer ends than it must."""
        room = {n: fill.room(number) for n, fill in enumerate(self.fills) if fill.room(number)}
        gained = {n: each - group.loss * self.fills[n].ends_of(number) for n, each in room.items()}
        joined_once = len(group.lengths) - self.apart.get(number, 0)
        longest = max(
            (ends.room for fill in self.fills for ends in fill.ends if ends.group == number), default=0
        )
        return [
            Row(gained, least=sum(group.lengths) - joined_once * group.loss),
            Row(room, least=sum(_with_joins(length, longest, group.loss) for length in group.lengths)),
        ]


def _with_joins(length: int, longest: int, loss: int) -> int:
    if length <= longest or longest <= loss:
        return length
    return length + (-(-(length - loss) // (longest - loss)) - 1) * loss


def _kinds(uses: Sequence[int]) -> int:
    return sum(1 for each in uses if each)
