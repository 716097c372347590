"""The least that must be bought, proved; then the least length; then the fewest different strips."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import gcd

from planner.problems import Limit

from .assembly import Unjoined, assemble
from .cloth import Strip
from .fills import Fill, Group, Task
from .joining import Slot
from .programme import Programme, Row, Solved, solve
from .recipes import Recipes, plain_recipes, recipes_for

TOGETHER, IN_A_ROW, EXACT, WITH_ROOM = "together", "in a row", "exact", "with room"
MANNERS = (IN_A_ROW, EXACT, WITH_ROOM)
FEW = 4
MOST_TOLD_APART = 350
MOST_ALIKE = 10_000


@dataclass(frozen=True)
class Found:
    """The strips of the best plan found, and the least steps that any plan of these fills buys.

    `strips` None: none was found, or, where `settled`, there is none.
    """

    strips: tuple[Strip, ...] | None
    least_steps: int
    settled: bool


def best_strips(task: Task, fills: Sequence[Fill], limit: Limit, *, least: int | None) -> Found:
    """Search the fills for the cheapest plan, then the shortest, then the one of fewest kinds of strip.

    Joined lengths are first counted together, which is quick and never asks for too much. Where they
    cannot be shared out of the strips found, they are laid out in one row, which may ask for too much;
    then each is counted by itself, exactly, and at last with room to move the ends along. `least` is the
    least steps to buy where the fills are not all there are.
    """
    search = _Search(task, fills, limit.effort or MOST_ALIKE, limit.seconds)
    paid, strips = search.cheapest(least)
    bound, best = paid, strips
    for manner in () if strips else MANNERS:
        if bound.uses is None or search.effort < 1:
            break
        search = replace(search, manner=manner)
        paid, strips = search.cheapest(least)
        if manner == EXACT:
            bound = replace(bound, least=max(paid.least, bound.least), settled=paid.settled)
        best = _shorter(best, strips)
        if best and paid.uses and paid.uses[-1] <= bound.least:
            break
    return Found(best, bound.least if least is None else least, bound.settled)


def _shorter(strips: tuple[Strip, ...] | None, others: tuple[Strip, ...] | None) -> tuple[Strip, ...] | None:
    """Return the strips that take less new cloth."""
    found = [each for each in (strips, others) if each]
    return min(found, key=_bought_of, default=None)


def _bought_of(strips: tuple[Strip, ...]) -> int:
    return sum(strip.height for strip in strips if strip.source is None)


@dataclass
class _Search:
    """The programme over the fills, and the effort that is left for it.

    `manner` is how joined lengths are counted.
    """

    task: Task
    fills: Sequence[Fill]
    effort: int
    seconds: float | None
    manner: str = TOGETHER

    def least_steps(self) -> Solved:
        """Return the uses, and as the last of them the steps bought."""
        cloth, last, most = self.task.cloth, len(self._most()), self._most_steps
        bought = {n: 1000 * height for n, height in self._bought().items()}
        washed = -cloth.step * (1000 - cloth.shrinkage)
        paid = Row({**bought, last: washed, last + 1: 1000 * cloth.squaring}, most=0)
        squared = Row({last: 1, last + 1: -most}, most=0)
        answer = self._solve([*[0] * last, 1, 0], [*self._most(), most, 1], [*self._rows(), paid, squared])
        return replace(answer, uses=answer.uses[:-1]) if answer.uses else answer

    def steps_from(self, least: int) -> Solved:
        """Return the same, looking for uses within the fewest steps first, then within one more."""
        answer = Solved(None, least, settled=False, effort=0)
        for steps in range(least, self._most_steps):
            rows = [*self._rows(), Row(self._bought(), most=self._length_of(steps))]
            answer = self._solve(self._lengths(), self._most(), rows)
            if answer.uses is not None:
                return replace(answer, uses=(*answer.uses, steps), least=least)
            if self.effort < 1:
                break
        return replace(answer, least=least)

    def cheapest(self, least: int | None) -> tuple[Solved, tuple[Strip, ...] | None]:
        """Return what is paid, and the strips; None where lengths cannot be joined from them.

        Where the fills are some of many, the first that are cheap enough are taken.
        """
        paid = self.least_steps() if least is None else self.steps_from(least)
        if paid.uses is None:
            return paid, None
        known = paid.uses[:-1]
        for uses in self._shortest(paid.uses[-1], instead=known) if least is None else (known,):
            ties = {number: recipes.ties(uses) for number, recipes in self._recipes}
            strips = assemble(self.task, self.fills, uses, ties=ties)
            if not isinstance(strips, Unjoined):
                return paid, strips
        return paid, None

    def _shortest(self, steps: int, *, instead: Sequence[int]) -> Iterator[Sequence[int]]:
        """Yield uses of least length within so many steps, those in few kinds first, last `instead`."""
        rows = [*self._rows(), Row(self._bought(), most=self._length_of(steps))]
        lengths = self._lengths()
        short = self._solve(lengths, self._most(), rows) if self.effort > 0 else None
        best = short.uses if short and short.uses else instead
        if len(self.fills) <= MOST_TOLD_APART:
            length = sum(cost * uses for cost, uses in zip(lengths, best, strict=True))
            alike = self._few_kinds([*rows, Row(dict(enumerate(lengths)), most=length)], best)
            if self._kinds(alike) > FEW:
                yield self._at_most_four_kinds(rows) or alike
            yield alike
        yield from (best, instead)

    def _few_kinds(self, rows: Sequence[Row], best: Sequence[int]) -> Sequence[int]:
        if self._kinds(best) <= 1 or self.effort < 1:
            return best
        last, count = len(self._most()), len(self.fills)
        found = self._solve([0] * last + [1] * count, self._most_and_kinds(), [*rows, *self._kind_rows()])
        return found.uses[:last] if found.uses else best

    def _at_most_four_kinds(self, rows: Sequence[Row]) -> Sequence[int] | None:
        if self.effort < 1:
            return None
        last, count = len(self._most()), len(self.fills)
        few = Row({last + n: 1 for n in range(count)}, most=FEW)
        costs = [*self._lengths(), *[0] * count]
        found = self._solve(costs, self._most_and_kinds(), [*rows, *self._kind_rows(), few])
        return found.uses[:last] if found.uses else None

    def _kind_rows(self) -> list[Row]:
        last = len(self._most())
        return [Row({n: 1, last + n: -self._most()[n]}, most=0) for n in range(len(self.fills))]

    def _most_and_kinds(self) -> list[int]:
        return [*self._most(), *[1] * len(self.fills)]

    def _kinds(self, uses: Sequence[int]) -> int:
        return sum(1 for each in uses[: len(self.fills)] if each)

    def _solve(self, costs: Sequence[int], most: Sequence[int], rows: Sequence[Row]) -> Solved:
        answer = solve(Programme(costs, most, rows), effort=max(1, self.effort), seconds=self.seconds)
        self.effort -= answer.effort
        return answer

    @property
    def _most_steps(self) -> int:
        return self.task.cloth.to_buy(self.task.tallest) // self.task.cloth.step

    def _length_of(self, steps: int) -> int:
        return self.task.cloth.gives(steps * self.task.cloth.step)

    def _bought(self) -> dict[int, int]:
        return {n: fill.height for n, fill in enumerate(self.fills) if fill.source is None}

    def _lengths(self) -> list[int]:
        """The heights as costs; what is bought counts for more than all that is on hand."""
        unit = gcd(*(fill.height for fill in self.fills))
        all_on_hand = sum(piece.height for piece in self.task.cloth.on_hand) // unit
        bought = all_on_hand + 1
        costs = [fill.height // unit * (bought if fill.source is None else 1) for fill in self.fills]
        return [*costs, *[0] * (len(self._most()) - len(costs))]

    def _most(self) -> list[int]:
        return self._columns

    @cached_property
    def _columns(self) -> list[int]:
        fills = [self.task.most_of(fill) for fill in self.fills]
        return [*fills, *(most for _, recipes in self._recipes for most in recipes.most)]

    @cached_property
    def _recipes(self) -> list[tuple[int, Recipes]]:
        """The recipes of the groups that have several lengths and not too many recipes."""
        found: list[tuple[int, Recipes]] = []
        first = len(self.fills)
        for number, group in enumerate(self.task.groups) if self.manner != TOGETHER else ():
            kinds = {
                Slot(ends.room, ends.lengthwise)
                for fill in self.fills
                for ends in fill.ends
                if ends.group == number
            }
            if self.manner == IN_A_ROW:
                recipes = plain_recipes(group, sorted(kinds), first)
            else:
                spare = group.least_end if self.manner == WITH_ROOM else 0
                recipes = recipes_for(group, sorted(kinds), first, spare=spare)
            found.append((number, recipes))
            first += len(recipes.most)
        return found

    def _ends(self, number: int, kind: Slot) -> dict[int, int]:
        """How many slots of a kind each fill gives to a group."""
        return {
            n: sum(ends.count for ends in fill.ends
                   if (ends.group, ends.room, ends.lengthwise) == (number, kind.room, kind.lengthwise))
            for n, fill in enumerate(self.fills)
        }  # fmt: skip

    def _rows(self) -> list[Row]:
        rows = [
            Row({n: fill.pieces(item) for n, fill in enumerate(self.fills) if fill.pieces(item)}, least=count)
            for item, count in self.task.wanted.items()
        ]
        for number, group in enumerate(self.task.groups):
            rows += self._joined(number, group)
        for number, recipes in self._recipes:
            rows += recipes.rows([self._ends(number, kind) for kind in recipes.kinds])
        for source, piece in enumerate(self.task.cloth.on_hand):
            cut = {n: fill.height for n, fill in enumerate(self.fills) if fill.source == source}
            rows.append(Row(cut, most=piece.height))
        return rows

    def _joined(self, number: int, group: Group) -> list[Row]:
        """Every end but one of each length loses a join; and no length has fewer ends than it must."""
        room = {n: fill.room(number) for n, fill in enumerate(self.fills) if fill.room(number)}
        gained = {n: each - group.loss * self.fills[n].ends_of(number) for n, each in room.items()}
        joined_once = len(group.lengths)
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
