"""What strips must give, as the columns and rows of a programme: how often each fill is used."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import gcd

from .fills import Fill, Task
from .loose import Loose
from .programme import Row
from .slots import Slot


@dataclass
class StripRows:
    """The uses of the fills, then for each group of joined lengths its own columns, then those of exclusions.

    An exclusion says that a group is not made the way that was seen not to work.
    """

    task: Task
    fills: Sequence[Fill]
    exclusions: list[Row] = field(default_factory=list)
    _choices: int = 0

    @property
    def most(self) -> list[int]:
        """How often each column can be used at the most."""
        return [
            *self._most_used,
            *(most for loose in self.groups for most in loose.most),
            *[1] * self._choices,
        ]

    @cached_property
    def groups(self) -> tuple[Loose, ...]:
        """The joined lengths, group by group."""
        found, first = [], len(self.fills)
        for number, group in enumerate(self.task.groups):
            kinds = {
                Slot(ends.room, ends.lengthwise)
                for fill in self.fills
                for ends in fill.ends
                if ends.group == number
            }
            found.append(Loose(group, tuple(sorted(kinds)), first))
            first += len(found[-1].most)
        return tuple(found)

    @property
    def rows(self) -> list[Row]:
        """Every piece is cut, every length can be joined, and nothing on hand is used up twice."""
        return [*self._wanted, *self.exclusions]

    @cached_property
    def bought(self) -> dict[int, int]:
        """The height of each fill that is newly bought."""
        return {n: fill.height for n, fill in enumerate(self.fills) if fill.source is None}

    def of_height(self, height: int) -> dict[int, int]:
        """One for each fill of that height that is newly bought."""
        return {n: 1 for n, each in self.bought.items() if each == height}

    @property
    def lengths(self) -> list[int]:
        """The heights as costs; what is bought counts for more than all that is on hand."""
        unit = gcd(*(fill.height for fill in self.fills))
        all_on_hand = sum(piece.height for piece in self.task.cloth.on_hand) // unit
        bought = all_on_hand + 1
        costs = [fill.height // unit * (bought if fill.source is None else 1) for fill in self.fills]
        return [*costs, *[0] * (len(self.most) - len(costs))]

    def to_spare(self, number: int) -> dict[int, int]:
        """How much each fill gives to a group: the room of its ends less a join each."""
        loss = self.task.groups[number].loss
        given = {n: fill.room(number) - loss * fill.ends_of(number) for n, fill in enumerate(self.fills)}
        return {n: gain for n, gain in given.items() if gain > 0}

    def within(self, steps: int) -> Row:
        """No more is bought than so many steps give."""
        return Row(self.bought, most=self.task.cloth.gives(steps * self.task.cloth.step))

    def exclude(self, number: int, uses: Sequence[int]) -> None:
        """Ask that a group gets other makings, or more or longer ends, than in these uses."""
        choices = []
        for columns in self.groups[number].given:
            choice = len(self.most)
            self._choices += 1
            choices.append(choice)
            more = sum(uses[column] for column in columns) + 1
            self.exclusions.append(Row({**dict.fromkeys(columns, 1), choice: -more}, least=0))
        self.exclusions.append(Row(dict.fromkeys(choices, 1), least=1))

    @cached_property
    def _most_used(self) -> list[int]:
        return [self.task.most_of(fill) for fill in self.fills]

    @cached_property
    def _wanted(self) -> list[Row]:
        rows = [
            Row({n: fill.pieces(item) for n, fill in enumerate(self.fills) if fill.pieces(item)}, least=count)
            for item, count in self.task.wanted.items()
        ]
        for number, loose in enumerate(self.groups):
            rows += loose.rows(self.slots(number))
        for source, piece in enumerate(self.task.cloth.on_hand):
            cut = {n: fill.height for n, fill in enumerate(self.fills) if fill.source == source}
            rows.append(Row(cut, most=piece.height))
        return rows

    def slots(self, number: int) -> list[dict[int, int]]:
        """How many slots each fill gives to a group, kind by kind."""
        return [self._ends(number, kind) for kind in self.groups[number].kinds]

    def _ends(self, number: int, kind: Slot) -> dict[int, int]:
        """How many slots of a kind each fill gives to a group."""
        counts = {
            n: sum(ends.count for ends in fill.ends
                   if (ends.group, ends.room, ends.lengthwise) == (number, kind.room, kind.lengthwise))
            for n, fill in enumerate(self.fills)
        }  # fmt: skip
        return {n: count for n, count in counts.items() if count}
