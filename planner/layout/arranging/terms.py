"""What an arrangement costs, as sums of flow times distance, kept so that every sum is exact.

A general pair of matrices is the sum of a symmetric and an antisymmetric pair, which do not mix; the
diagonals are what a thing costs on a place by itself. So the search meets only those three kinds.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planner.problems import BadInput

Array = NDArray[Any]
BARRED = np.inf
TOO_LARGE = 2**59
# Whole numbers below these are exact in the narrower, faster kinds of number.
_EXACT = ((2**24, np.float32), (2**53, np.float64))


@dataclass(frozen=True)
class Pairs:
    """Costs of pairs: Σ flow[i, j] · distance[p[i], p[j]].

    Both matrices are symmetric, or both antisymmetric; their diagonals are 0.
    """

    flow: Array
    distance: Array
    mirrored: bool = True

    def cost(self, places: Array) -> Any:
        """Return what so many permutations, one a row, cost in these pairs."""
        seated = self.distance[places[:, :, None], places[:, None, :]]
        return np.einsum("ij,cij->c", self.flow, seated)

    @property
    def reach(self) -> int:
        """The most that a sum over the pairs of one thing can come to."""
        return int(np.abs(self.flow).sum(axis=1).max()) * int(np.abs(self.distance).max()) + 1


@dataclass(frozen=True)
class Seating:
    """Things to be given places: costs of pairs, costs of each thing on each place (`BARRED`: never)."""

    pairs: tuple[Pairs, ...]
    alone: Array
    whole: bool = True

    @property
    def size(self) -> int:
        """How many things there are, and places."""
        return len(self.alone)

    def cost(self, places: Array) -> Any:
        """Return the cost of so many permutations, one a row."""
        return sum(each.cost(places) for each in self.pairs) + self.alone[np.arange(self.size), places].sum(
            axis=1
        )

    @property
    def kind(self) -> Any:
        """The narrowest kind of number in which every sum of the search is exact."""
        kinds = (kind for most, kind in _EXACT if self.reach < most)
        barred = bool(np.isinf(self.alone).any())
        return next(kinds, np.float64 if barred else np.int64) if self.whole else np.float64

    @property
    def reach(self) -> int:
        """The most that any sum of the search can come to."""
        open_costs = np.abs(self.alone[self.alone != BARRED])
        return sum(16 * each.reach for each in self.pairs) + 8 * int(open_costs.max(initial=0))


def seating_of(flow: Array, distance: Array) -> tuple[Seating, int]:
    """Return the question of one flow and one distance, and how many times over it counts the cost."""
    flow, distance = _square("flow", flow), _square("distance", distance)
    if flow.shape != distance.shape:
        raise BadInput("distance", "must have a row for each row of the flow.")
    whole = all(np.issubdtype(each.dtype, np.integer) for each in (flow, distance))
    if whole and len(flow) ** 2 * _largest(flow) * _largest(distance) >= TOO_LARGE:
        raise BadInput("flow", "the numbers are too large to be added exactly.")
    alone = np.multiply.outer(flow.diagonal(), distance.diagonal())
    flow, distance = _hollow(flow), _hollow(distance)
    if np.array_equal(flow, flow.T) and np.array_equal(distance, distance.T):
        return Seating((Pairs(flow, distance),), alone, whole), 1
    same = Pairs(flow + flow.T, distance + distance.T)
    other = Pairs(flow - flow.T, distance - distance.T, mirrored=False)
    return Seating((same, other), 4 * alone, whole), 4


def _square(name: str, values: Array) -> Array:
    matrix = np.asarray(values)
    if matrix.ndim != 2 or not len(matrix) or matrix.shape[0] != matrix.shape[1]:
        raise BadInput(name, "must be a square of numbers, a row for each thing.")
    if np.issubdtype(matrix.dtype, np.integer):
        return matrix.astype(np.int64)
    if not np.issubdtype(matrix.dtype, np.floating) or not np.isfinite(matrix).all():
        raise BadInput(name, "must hold numbers, and no endless ones.")
    return matrix.astype(np.float64)


def _largest(matrix: Array) -> int:
    return max(int(matrix.max()), -int(matrix.min()))


def _hollow(matrix: Array) -> Array:
    hollow = matrix.copy()
    np.fill_diagonal(hollow, 0)
    return hollow
