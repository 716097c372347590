"""The search behind mixed layouts: columns of bands, and every piece's size chosen with them.

It first asks only that the columns of each width are full when taken together, and then deals their
bands out to single columns; where that fails it tells the columns of that width apart, and asks
again. What is dropped in between makes the question easier, so its answer is a bound.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable
from itertools import pairwise
from typing import Any

from .bands import Band, Reach, Span, bands_of, strip
from .dealing import deal
from .fields import Field, Packing, Settled
from .purse import Purse


def pack(
    field: Field, reach: Reach, *, under: int | None, purse: Purse, work: float | None, seed: int,
    hear: Callable[[Packing], bool] = lambda packing: True,
) -> Settled:  # fmt: skip
    """Return the cheapest packing of a field that costs less than `under`, or that there is none.

    At most `work` of the solver's deterministic time is spent. `hear` is told of each better
    packing and stops the search by returning False.
    """
    question = Question(field, reach, under)
    listener, bound = _listener(question, hear), 0
    while True:
        status, known = question.ask(listener, purse, work, seed)
        bound = max(bound, known)
        if status == "none":
            return Settled(question.best, question.best.cost if question.best else bound, True)
        stuck = question.keep_last() if status != "unknown" else None
        if status == "best" and stuck is None:
            assert question.best is not None
            return Settled(question.best, question.best.cost, True)
        if status != "best" or purse.is_empty:
            return Settled(question.best, bound, False)
        assert stuck is not None
        question.tell_apart(stuck)


class Question:
    """The model of one field for the solver."""

    def __init__(self, field: Field, reach: Reach, under: int | None) -> None:
        from ortools.sat.python import cp_model

        self.field, self.cp, self.model = field, cp_model, cp_model.CpModel()
        self.best: Packing | None = None
        self.apart: dict[int, list[dict[int, Any]]] = {}
        self.bands = self._usable_bands(reach)
        self.columns = {
            across: self.model.new_int_var(0, field.across // across, f"columns {across}")
            for across in sorted({band.across for band in self.bands})
        }
        self.counts = [self.model.new_int_var(0, self._most(band), "band") for band in self.bands]
        self.chosen = [
            {span: self.model.new_int_var(0, len(each.pieces), "pieces") for span in sorted(each.costs)}
            for each in field.demands
        ]
        self.plain = {
            span: self.model.new_int_var(0, field.most_plain // (span[0] * span[1]), "plain")
            for span in sorted(field.plain | self.strips)
        }
        self._fill_the_field()
        self._use_the_pieces()
        self._supply_what_is_asked()
        self._cost_least(under)

    def _usable_bands(self, reach: Reach) -> list[Band]:
        """Bands of blocks, and narrow strips over the width of a column or over its whole length."""
        field = self.field
        spans = {span for each in field.demands for span in each.costs} | field.plain
        bands = bands_of((span for span in spans if span[0] <= field.across and span[1] <= field.down), reach)
        self.strips = {(band.across, field.strip) for band in bands} | {(field.strip, field.down)}
        more = (strip(*span) for span in sorted(self.strips - spans))
        return [each for each in (*bands, *more) if each.across <= field.across and each.down <= field.down]

    def _most(self, band: Band) -> int:
        return (self.field.across // band.across) * (self.field.down // band.down)

    def _fill_the_field(self) -> None:
        field = self.field
        self.model.add(sum(across * many for across, many in self.columns.items()) == field.across)
        for across, many in self.columns.items():
            piled = sum(
                b.down * n for b, n in zip(self.bands, self.counts, strict=True) if b.across == across
            )
            self.model.add(piled == field.down * many)

    def _use_the_pieces(self) -> None:
        groups: dict[str, list[Any]] = defaultdict(list)
        missing: list[Any] = []
        for each, chosen in zip(self.field.demands, self.chosen, strict=True):
            used = sum(chosen.values())
            self.model.add(used <= len(each.pieces))
            if each.required:
                missing.append(len(each.pieces) - used)
            if each.group:
                groups[each.group].append(used)
        if missing:
            self.model.add(sum(missing) == self.field.spare)
        for of_garment in groups.values():
            self.model.add(sum(of_garment) >= 1)

    def _supply_what_is_asked(self) -> None:
        supply: dict[Span, list[Any]] = defaultdict(list)
        asked: dict[Span, list[Any]] = defaultdict(list)
        for band, many in zip(self.bands, self.counts, strict=True):
            for span, times in sorted(Counter(band.spans).items()):
                supply[span].append(times * many)
        for chosen in self.chosen:
            for span, count in chosen.items():
                asked[span].append(count)
        for span, count in self.plain.items():
            asked[span].append(count)
        for span in sorted(supply.keys() | asked.keys()):
            self.model.add(sum(supply[span]) == sum(asked[span]))
        every = sum(span[0] * span[1] * count for span, counts in asked.items() for count in counts)
        self.model.add(every == self.field.across * self.field.down)

    def _cost_least(self, under: int | None) -> None:
        plain = sum(span[0] * span[1] * count for span, count in self.plain.items())
        self.model.add(plain <= self.field.most_plain)
        costs = [
            each.costs[span] * count
            for each, chosen in zip(self.field.demands, self.chosen, strict=True)
            for span, count in chosen.items()
        ]
        self.cost = sum(costs) + self.field.plain_cost * plain
        if under is not None:
            self.model.add(self.cost <= under - 1)
        self.model.minimize(self.cost)

    def ask(self, listener: Any, purse: Purse, work: float | None, seed: int) -> tuple[str, int]:
        """Let the solver look; return best, found, none or unknown, and the least cost there can be."""
        cp, solver = self.cp, self.cp.CpSolver()
        left = [each for each in (purse.work, work) if each is not None]
        if left:
            solver.parameters.max_deterministic_time = max(min(left), 0.0)
        if purse.seconds is not None:
            solver.parameters.max_time_in_seconds = purse.seconds
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = seed
        status = solver.solve(self.model, listener)
        purse.spend(solver.response_proto.deterministic_time)
        self.solver = solver
        names = {cp.OPTIMAL: "best", cp.FEASIBLE: "found", cp.INFEASIBLE: "none"}
        return names.get(status, "unknown"), max(0, round(solver.best_objective_bound))

    def keep_last(self) -> int | None:
        """Keep what the solver ended with; where its bands cannot be dealt out, return their width."""
        return self.keep(self.solver.value, round(self.solver.objective_value))

    def keep(self, value: Callable[[Any], int], cost: int) -> int | None:
        if self.best is not None and self.best.cost <= cost:
            return None
        counts = {band: value(n) for band, n in zip(self.bands, self.counts, strict=True) if value(n)}
        columns = deal(counts, self.field.down, self._piles(value))
        if isinstance(columns, int):
            return columns
        self.best = Packing(columns, self._pieces(value), cost)
        return None

    def _pieces(self, value: Callable[[Any], int]) -> dict[Span, tuple[str, ...]]:
        found: dict[Span, tuple[str, ...]] = defaultdict(tuple)
        for each, chosen in zip(self.field.demands, self.chosen, strict=True):
            waiting = list(each.pieces)
            for span, count in chosen.items():
                found[span] += tuple(waiting[: value(count)])
                del waiting[: value(count)]
        return dict(found)

    def _piles(self, value: Callable[[Any], int]) -> dict[int, list[tuple[int, ...]]]:
        """The heights in each single column of the widths that were told apart."""
        return {
            across: [
                tuple(height for height, n in column.items() for _ in range(value(n)))
                for column in columns
                if any(map(value, column.values()))
            ]
            for across, columns in self.apart.items()
        }

    def tell_apart(self, across: int) -> None:
        """Ask for single columns of this width, each full by itself; and for better than there is."""
        if self.best is not None:
            self.model.add(self.cost <= self.best.cost - 1)
        most, down = self.field.across // across, self.field.down
        of_width = [(b, n) for b, n in zip(self.bands, self.counts, strict=True) if b.across == across]
        heights = sorted({band.down for band, _ in of_width})
        there = [self.model.new_bool_var("column") for _ in range(most)]
        self.model.add(sum(there) == self.columns[across])
        self.apart[across] = [
            {height: self.model.new_int_var(0, down // height, "bands") for height in heights} for _ in there
        ]
        for is_there, column in zip(there, self.apart[across], strict=True):
            self.model.add(sum(height * n for height, n in column.items()) == down * is_there)
        for before, after in pairwise(there):
            self.model.add_implication(after, before)
        for height in heights:
            together = sum(n for band, n in of_width if band.down == height)
            self.model.add(sum(column[height] for column in self.apart[across]) == together)


def _listener(question: Question, hear: Callable[[Packing], bool]) -> Any:
    def on_solution_callback(self: Any) -> None:
        before = question.best
        question.keep(self.value, round(self.objective_value))
        if question.best is not None and question.best is not before and not hear(question.best):
            self.stop_search()

    base = question.cp.CpSolverSolutionCallback
    return type("Listener", (base,), {"on_solution_callback": on_solution_callback})()
