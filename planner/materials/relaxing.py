"""The least cost of a programme when strips could be cut in fractions, with a bound in whole numbers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from .programme import FIGURES_A_UNIT, Programme, Row

FINE = 1 << 30
DEAR = 1 << 30  # for each unit by which a row is missed


class Relaxation:
    """A linear programme that is set up once and asked with more rows again and again."""

    def __init__(self, programme: Programme) -> None:
        from ortools.linear_solver import pywraplp

        self._programme = programme
        self._solver = pywraplp.Solver.CreateSolver("GLOP")
        self._uses = [self._solver.NumVar(0, most, "") for most in programme.most]
        self._bounds = [self._bound(row) for row in programme.rows]
        self._more: dict[tuple[int, ...], Any] = {}
        self._misses: dict[tuple[int, ...], tuple[Any, Any]] = {}
        self._figures = sum(len(row.gives) for row in programme.rows)
        self._looked_at = 0
        for use, cost in zip(self._uses, programme.costs, strict=True):
            self._solver.Objective().SetCoefficient(use, float(cost))
        self._solver.Objective().SetMinimization()

    @property
    def effort(self) -> int:
        """What was spent so far, in the units of a search."""
        return self._looked_at // FIGURES_A_UNIT

    def least(self, more: Sequence[Row]) -> tuple[int, dict[int, float]]:
        """Return a cost that no uses with these rows too fall below, and the uses in fractions.

        The cost follows from the prices of the rows, rounded to whole numbers, whatever they are (weak
        duality). Where the rows cannot all be met, the prices are those of rows that may be missed at a
        dear cost. Uses that meet all rows miss none, so the same sum over rows and uses bounds them too,
        whatever was paid for misses; it is then beyond most lengths, and no uses are returned.
        """
        self._looked_at += self._figures
        tightest = _tightest(more)
        for key, bound in self._more.items():
            if key not in tightest:
                bound.SetBounds(-self._solver.infinity(), self._solver.infinity())
        for key, row in tightest.items():
            if key not in self._more:
                self._more[key] = self._bound(row)
                self._misses[key] = self._misses_of(self._more[key])
            self._set(self._more[key], row)
        if self._solver.Solve() != self._solver.OPTIMAL:
            return self._least_if_missed(tightest), {}
        found = {n: use.solution_value() for n, use in enumerate(self._uses)}
        return self._worth(tightest), {n: use for n, use in found.items() if use}

    def _least_if_missed(self, more: Mapping[tuple[int, ...], Row]) -> int:
        self._looked_at += self._figures
        misses = [each for key in more for each in self._misses[key]]
        for each in misses:
            each.SetUb(self._solver.infinity())
        found = self._solver.Solve() == self._solver.OPTIMAL
        least = self._worth(more) if found else 0
        for each in misses:
            each.SetUb(0)
        return least

    def _worth(self, more: Mapping[tuple[int, ...], Row]) -> int:
        rows = [*self._programme.rows, *more.values()]
        bounds = [*self._bounds, *(self._more[key] for key in more)]
        return _worth(self._programme, rows, [round(bound.dual_value() * FINE) for bound in bounds])

    def _misses_of(self, bound: Any) -> tuple[Any, Any]:
        misses = self._solver.NumVar(0, 0, ""), self._solver.NumVar(0, 0, "")
        for each, gives in zip(misses, (1.0, -1.0), strict=True):
            bound.SetCoefficient(each, gives)
            self._solver.Objective().SetCoefficient(each, float(DEAR))
        return misses

    def _bound(self, row: Row) -> Any:
        bound = self._solver.Constraint()
        for column, given in row.gives.items():
            bound.SetCoefficient(self._uses[column], float(given))
        self._set(bound, row)
        return bound

    def _set(self, bound: Any, row: Row) -> None:
        least = -self._solver.infinity() if row.least is None else float(row.least)
        most = self._solver.infinity() if row.most is None else float(row.most)
        bound.SetBounds(least, most)


def _tightest(rows: Sequence[Row]) -> dict[tuple[int, ...], Row]:
    """Return one row for all over the same columns, which are counted one each."""
    found: dict[tuple[int, ...], Row] = {}
    for row in rows:
        key = tuple(row.gives)
        known = found.get(key, Row(row.gives))
        leasts = [each for each in (known.least, row.least) if each is not None]
        mosts = [each for each in (known.most, row.most) if each is not None]
        found[key] = Row(row.gives, max(leasts, default=None), min(mosts, default=None))
    return found


def _worth(programme: Programme, rows: Sequence[Row], prices: Sequence[int]) -> int:
    """Return what the rows ask for by these prices, less what uses would still save, in whole numbers."""
    reduced = [cost * FINE for cost in programme.costs]
    worth = 0
    for row, price in zip(rows, prices, strict=True):
        asked = row.least if price > 0 else row.most
        if not price or asked is None:
            continue
        worth += price * asked
        for column, given in row.gives.items():
            reduced[column] -= price * given
    worth += sum(left * most for left, most in zip(reduced, programme.most, strict=True) if left < 0)
    return max(0, -(-worth // FINE))
