"""Cases of a search by how many strips of each height are cut, those with too great a length left out.

Few long strips are cut, and all lengths add up in few ways, so part of a strip in a linear programme is
far from the truth.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import floor

from .programme import Programme, Row
from .relaxing import Relaxation
from .strip_rows import StripRows

MOST_BRANCHES = 40
MOST_PARTS = 130
NEARLY = 1e-6


@dataclass(frozen=True)
class Branch:
    """One case: its rows, the least length bought in it, and strips in fractions that take no more."""

    rows: tuple[Row, ...]
    least: int
    uses: Mapping[int, float]


class Branches:
    """The cases of one search."""

    def __init__(self, strips: StripRows) -> None:
        costs = [strips.bought.get(n, 0) for n in range(len(strips.most))]
        heights = sorted(set(strips.bought.values()), reverse=True)
        self._relaxation = Relaxation(Programme(costs, strips.most, strips.rows))
        self._columns = {height: strips.of_height(height) for height in heights}
        self._long = [
            height
            for height in heights
            if any(ends.lengthwise for n in self._columns[height] for ends in strips.fills[n].ends)
        ]

    @property
    def effort(self) -> int:
        """What was spent on them so far."""
        return self._relaxation.effort

    def all_of(self, length: int) -> list[Branch]:
        """Return the cases by how many long strips of each height go into the length; one where too many."""
        counted = []
        for counts in _counts(self._long, length):
            rows = [Row(self._columns[each], least=many, most=many) for each, many in counts.items()]
            counted.append(tuple(rows))
            if len(counted) > MOST_BRANCHES:
                return [self._branch(())]
        return [self._branch(rows) for rows in counted]

    def parts(self, branch: Branch, length: int, effort: int) -> list[Branch]:
        """Return the cases by how many strips of each height there are, the shortest first.

        Those that need more than the length are left out. Where there are too many, or the effort is
        spent, some stay undivided.
        """
        found, waiting, until = [], [branch], self.effort + effort
        for _ in range(MOST_PARTS):
            if not waiting or self.effort >= until:
                break
            case = waiting.pop()
            halves = self._halved(case)
            found += [] if halves else [case]
            waiting += sorted((half for half in halves if half.least <= length), key=lambda half: -half.least)
        return sorted([*found, *waiting], key=lambda case: case.least)

    def _halved(self, case: Branch) -> list[Branch]:
        """Return two cases that leave out a fraction of the strips of one height; none if all are whole."""
        for column in self._columns.values():
            many = sum(case.uses.get(n, 0.0) for n in column)
            if NEARLY < many - floor(many) < 1 - NEARLY:
                fewer, more = Row(column, most=floor(many)), Row(column, least=floor(many) + 1)
                return [self._branch((*case.rows, row)) for row in (fewer, more)]
        return []

    def _branch(self, rows: tuple[Row, ...]) -> Branch:
        return Branch(rows, *self._relaxation.least(rows))


def _counts(heights: Sequence[int], length: int) -> Iterator[dict[int, int]]:
    if not heights:
        yield {}
        return
    for many in range(length // heights[0] + 1):
        for counts in _counts(heights[1:], length - many * heights[0]):
            yield {heights[0]: many, **counts}
