"""Fills made on demand, where there are too many to list, with a bound in whole numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import islice
from math import gcd
from typing import Any

from .cloth import CutPiece
from .fills import Ends, Fill, Sheet, Task, Way

MOST_ROUNDS = 200
MOST_CELLS = 4_000_000
MOST_NEAR = 1_500
MOST_FULL = 400
NEARLY = (999, 980)  # thousandths of the best
FINE = 1 << 30


@dataclass(frozen=True)
class Prices:
    """What a piece, and a length gained for a group, are worth; all of them whole numbers."""

    pieces: dict[int, int]
    groups: tuple[int, ...]


@dataclass(frozen=True)
class Generated:
    """Fills that are enough for the least length when strips could be cut in fractions, and a bound."""

    fills: tuple[Fill, ...]
    least: int


def generated_fills(task: Task) -> Generated | None:
    """Return fills that a linear programme asks for, or None where that would take too long.

    `least` is the least length bought, for whole strips or fractions of them. It follows from the
    prices alone, whatever they are (Farley, A note on bounding a class of linear programming
    problems, 1990, from memory).
    """
    strips = [(sheet, height) for sheet in task.sheets for height in task.heights(sheet)]
    if sum(_cells(task, sheet) for sheet, _ in strips) > MOST_CELLS:
        return None
    by_area = Prices(
        {n: piece.across * piece.along for n, piece in enumerate(task.items) if isinstance(piece, CutPiece)},
        tuple(group.width for group in task.groups),
    )
    prices, fills = by_area, list(_one_of_each(task))
    fills += (fill for each in strips for fill in islice(_near(task, *each, by_area), MOST_FULL))
    fills = list(dict.fromkeys(fills))
    for _ in range(MOST_ROUNDS):
        prices = _prices(task, fills)
        found = [_most_valuable(task, sheet, height, prices) for sheet, height in strips]
        fresh = [fill for fill, _ in found if fill not in fills]
        if not fresh:
            break
        fills += fresh
    near = (fill for sheet, height in strips for fill in _near(task, sheet, height, prices))
    return Generated(tuple(dict.fromkeys([*fills, *near])), _least(task, prices))


def _one_of_each(task: Task) -> Iterator[Fill]:
    """Yield, to begin with, for each piece a strip of nothing else, and for each group one of its ends."""
    for sheet in task.sheets:
        for height in task.heights(sheet):
            for way in task.ways(sheet, height):
                yield Fill(sheet.source, height, ((way, sheet.width // way.across),))
            joined = task.across(sheet, height)
            if joined is not None:
                yield Fill(sheet.source, height, (), (Ends(joined, sheet.width, 1, lengthwise=False),))


def _cells(task: Task, sheet: Sheet) -> int:
    return sheet.width // _unit(task) * len(task.lies)


def _unit(task: Task) -> int:
    return gcd(*(across for _, across, _ in task.lies), *(group.width for group in task.groups))


def _prices(task: Task, fills: Sequence[Fill]) -> Prices:
    """Solve the programme over the fills for fractions of strips, and round its prices down."""
    from ortools.linear_solver import pywraplp

    solver = pywraplp.Solver.CreateSolver("GLOP")
    uses = [solver.NumVar(0, solver.infinity(), "") for _ in fills]
    demands = {
        item: solver.Constraint(float(count), solver.infinity()) for item, count in task.wanted.items()
    }
    joined = [solver.Constraint(float(_needed(task, n)), solver.infinity()) for n in range(len(task.groups))]
    for source, piece in enumerate(task.cloth.on_hand):
        on_hand = solver.Constraint(-solver.infinity(), float(piece.height))
        for use, fill in zip(uses, fills, strict=True):
            if fill.source == source:
                on_hand.SetCoefficient(use, float(fill.height))
    for use, fill in zip(uses, fills, strict=True):
        for item, row in demands.items():
            if fill.pieces(item):
                row.SetCoefficient(use, float(fill.pieces(item)))
        for number, row in enumerate(joined):
            if fill.room(number):
                row.SetCoefficient(use, float(_gained(task, fill, number)))
        solver.Objective().SetCoefficient(use, float(fill.height) if fill.source is None else 0.0)
    solver.Objective().SetMinimization()
    solver.Solve()
    return Prices({item: _whole(row) for item, row in demands.items()}, tuple(_whole(row) for row in joined))


def _whole(row: Any) -> int:
    return max(0, int(row.dual_value() * FINE))


def _needed(task: Task, number: int) -> int:
    group = task.groups[number]
    return sum(group.lengths) - len(group.lengths) * group.loss


def _gained(task: Task, fill: Fill, number: int) -> int:
    return fill.room(number) - task.groups[number].loss * fill.ends_of(number)


def _least(task: Task, prices: Prices) -> int:
    """Return the length that must be bought by these prices, rounded up to a tick."""
    worth = sum(prices.pieces[item] * count for item, count in task.wanted.items())
    worth += sum(price * _needed(task, number) for number, price in enumerate(prices.groups))
    dearest = Fraction(0)
    given = Fraction(0)
    for sheet in task.sheets:
        heights = task.heights(sheet)
        values = [Fraction(_most_valuable(task, sheet, height, prices)[1], height) for height in heights]
        best = max(values, default=Fraction(0))
        if sheet.length is None:
            dearest = best
        else:
            given += best * sheet.length
    left = worth - given
    if left <= 0 or not dearest:
        return 0
    return -int(-(left / dearest) // 1)


@dataclass(frozen=True)
class _Kind:
    """A column as the pricing sees it: how wide, worth how much, how many at the most."""

    across: int
    value: int
    most: int
    way: Way | None
    group: int


def _kinds(task: Task, sheet: Sheet, height: int, prices: Prices) -> list[_Kind]:
    found = [
        _Kind(way.across, prices.pieces.get(way.item, 0) * way.gain, _most(task, way), way, -1)
        for way in task.ways(sheet, height)
    ]
    for number in task.lengthwise(sheet, height):
        group = task.groups[number]
        gained = max(0, min(height, group.longest) - group.loss)
        value = gained * (prices.groups[number] if prices.groups else 0)
        found.append(_Kind(group.width, value, len(group.lengths) * 8, None, number))
    return [kind for kind in found if kind.value]


def _most(task: Task, way: Way) -> int:
    return -(-task.wanted[way.item] // way.gain)


def _most_valuable(task: Task, sheet: Sheet, height: int, prices: Prices) -> tuple[Fill, int]:
    """Return the fill of the greatest worth, and that worth, exactly."""
    import numpy as np

    unit, kinds = _unit(task), _kinds(task, sheet, height, prices)
    best = np.zeros(sheet.width // unit + 1, dtype=np.int64)
    steps: list[tuple[_Kind, Any]] = []
    for kind in kinds:
        wide = kind.across // unit
        for _ in range(min(kind.most, sheet.width // kind.across)):
            with_it = best[: len(best) - wide] + kind.value
            better = np.zeros(len(best), dtype=bool)
            better[wide:] = with_it > best[wide:]
            if not better.any():
                break
            best = best.copy()
            best[wide:] = np.maximum(best[wide:], with_it)
            steps.append((kind, better))
    at, joined = len(best) - 1, task.across(sheet, height)
    worth = int(best[at])
    if joined is not None and prices.groups and prices.groups[joined]:
        group = task.groups[joined]
        room = sheet.width - np.arange(len(best), dtype=np.int64) * unit
        gained = np.where(room >= group.least_end, np.maximum(room - group.loss, 0), 0)
        total = best + gained * prices.groups[joined]
        at = int(total.argmax())
        worth = int(total[at])
    taken: dict[_Kind, int] = {}
    for kind, better in reversed(steps):
        if better[at]:
            taken[kind] = taken.get(kind, 0) + 1
            at -= kind.across // unit
    return _as_fill(task, sheet, height, taken), worth


def _as_fill(task: Task, sheet: Sheet, height: int, taken: dict[_Kind, int]) -> Fill:
    columns = tuple((kind.way, many) for kind, many in taken.items() if kind.way)
    ends = [
        Ends(kind.group, min(height, task.groups[kind.group].longest), many, lengthwise=True)
        for kind, many in taken.items()
        if kind.way is None
    ]
    room = sheet.width - sum(kind.across * many for kind, many in taken.items())
    joined = task.across(sheet, height)
    if joined is not None and task.groups[joined].reaches(room):
        ends.append(Ends(joined, room, 1, lengthwise=False))
    return Fill(sheet.source, height, columns, tuple(ends))


def _near(task: Task, sheet: Sheet, height: int, prices: Prices) -> Iterator[Fill]:
    """Yield fills of pieces that are worth nearly as much as the best."""
    kinds = [kind for kind in _kinds(task, sheet, height, prices) if kind.way]
    kinds.sort(key=lambda kind: Fraction(-kind.value, kind.across))
    best = _most_valuable(task, sheet, height, prices)[1]
    for share in NEARLY:
        for taken in islice(_worth(kinds, sheet.width, best * share // 1000), MOST_NEAR):
            yield _as_fill(task, sheet, height, taken)


def _worth(kinds: Sequence[_Kind], width: int, least: int) -> Iterator[dict[_Kind, int]]:
    """Yield what goes into a width and is worth enough, in order of worth for its width."""
    if least <= 0:
        yield {}
    if not kinds or width * kinds[0].value < least * kinds[0].across:
        return
    for first, kind in enumerate(kinds):
        if width * kind.value < least * kind.across:
            return
        for many in range(min(kind.most, width // kind.across), 0, -1):
            rest = _worth(kinds[first + 1 :], width - many * kind.across, least - many * kind.value)
            for taken in rest:
                yield {kind: many, **taken}
