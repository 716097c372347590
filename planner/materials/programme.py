"""Small whole-number programmes: the least cost of strips under what they must give."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

UNITS_A_SECOND = 100  # of the engine's own, repeatable seconds
FIGURES_A_UNIT = 10_000  # about as many are set up in a hundredth of a second


@dataclass(frozen=True)
class Row:
    """What the columns give together: at least `least`, at most `most`, where these are given."""

    gives: Mapping[int, int]
    least: int | None = None
    most: int | None = None


@dataclass(frozen=True)
class Programme:
    """Costs and greatest uses of the columns, and the rows; all of them whole."""

    costs: Sequence[int]
    most: Sequence[int]
    rows: Sequence[Row]


@dataclass(frozen=True)
class Solved:
    """How often each column is used (None: no way was found), the least cost there can be, the effort spent.

    `settled` when it is the least, or when there provably is no way.
    """

    uses: tuple[int, ...] | None
    least: int
    settled: bool
    effort: int


def solve(programme: Programme, *, effort: int, seconds: float | None = None) -> Solved:
    """Return the uses of least cost; one thread and a fixed seed, so that it can be repeated."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    uses = [model.new_int_var(0, most, "") for most in programme.most]
    for row in programme.rows:
        given = cp_model.LinearExpr.weighted_sum([uses[n] for n in row.gives], list(row.gives.values()))
        if row.least is not None:
            model.add(given >= row.least)
        if row.most is not None:
            model.add(given <= row.most)
    model.minimize(cp_model.LinearExpr.weighted_sum(uses, list(programme.costs)))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.linearization_level = 2
    solver.parameters.cp_model_probing_level = 0  # takes longer than these programmes do
    solver.parameters.max_deterministic_time = effort / UNITS_A_SECOND
    if seconds is not None:
        solver.parameters.max_time_in_seconds = seconds
    status = solver.solve(model)
    spent = -int(-solver.response_proto.deterministic_time * UNITS_A_SECOND // 1)
    spent += sum(len(row.gives) for row in programme.rows) // FIGURES_A_UNIT
    if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        found = tuple(solver.value(each) for each in uses)
        least = -int(-solver.best_objective_bound // 1)
        return Solved(found, least, status == cp_model.OPTIMAL, spent)
    least = max(0, -int(-solver.best_objective_bound // 1)) if status == cp_model.UNKNOWN else 0
    return Solved(None, least, status == cp_model.INFEASIBLE, spent)
