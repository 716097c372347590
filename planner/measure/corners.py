"""Four tapped corners: refused where they cannot be those of a rectangle, else put in order round it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planner.problems import BadInput

Array = NDArray[Any]
Points = Sequence[tuple[float, float]]

LEAST_SPAN = 8.0  # times the taps' own scatter: less, and the corners say nothing


def corners(field: str, points: Points, *, sigma: float) -> Array:
    """Return four corners clockwise as seen, beginning with the first that was given, as a 4 x 2 array.

    Refused with `field` named: not four, not numbers, three on a line, or one inside the others.
    """
    taps = _as_array(field, points)
    centre = taps.mean(axis=0)
    turn = np.arctan2(taps[:, 1] - centre[1], taps[:, 0] - centre[0])
    first = turn[0]
    around = taps[np.argsort((turn - first + 1e-9) % (2 * math.pi))]
    _no_three_on_a_line(field, around, sigma)
    _bulges_outward(field, around)
    return around


def _as_array(field: str, points: Points) -> Array:
    try:
        taps = np.array([tuple(point) for point in points], dtype=float)
    except (TypeError, ValueError) as fault:
        raise BadInput(field, "must be four points (x, y).") from fault
    if taps.shape != (4, 2) or not np.isfinite(taps).all():
        raise BadInput(field, "must be four points (x, y): tap each corner once.")
    return taps


def _no_three_on_a_line(field: str, taps: Array, sigma: float) -> None:
    for three in combinations(taps, 3):
        if _height(*three) < LEAST_SPAN * sigma:
            raise BadInput(
                field, "three of the corners lie on one line, or on each other; tap the four corners again."
            )


def _height(a: Array, b: Array, c: Array) -> float:
    """The least height of the triangle: how far it is from a line."""
    longest = max(math.dist(a, b), math.dist(b, c), math.dist(c, a))
    return abs(_cross(b - a, c - a)) / longest if longest else 0.0


def _bulges_outward(field: str, taps: Array) -> None:
    turns = [_cross(taps[(i + 1) % 4] - taps[i], taps[(i + 2) % 4] - taps[(i + 1) % 4]) > 0 for i in range(4)]
    if not all(turns):
        raise BadInput(field, "one corner lies inside the other three; tap the four corners again.")


def _cross(a: Array, b: Array) -> float:
    return float(a[0] * b[1] - a[1] * b[0])
