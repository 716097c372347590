"""The cloth beyond a print, from the same picture."""

from __future__ import annotations

import numpy as np
import pytest

from planner.measure import CARD, LETTER, measure_cloth
from planner.problems import BadInput
from planner.units import INCH, Sides
from tests.planner.measure.pictures import FOCAL, MIDDLE, inches, oblong, seen, turned

POSE = {"above": 40.0, "tilt": 18.0, "toward": 75.0, "roll": 12.0}
PRINT = oblong(10, 12)


def lying(reference: object = LETTER) -> np.ndarray:
    return seen(turned(oblong(*inches(reference)), 30) + np.array([12.0, 1.0]), **POSE)


def around(top: float, right: float, bottom: float, left: float) -> np.ndarray:
    """Return the corners of the cloth so far beyond the print."""
    return np.array(
        [
            [-5 - left, -6 - top],
            [5 + right, -6 - top],
            [5 + right, 6 + bottom],
            [-5 - left, 6 + bottom],
        ],
        dtype=float,
    )


def test_cloth_drawn_square_with_the_print_is_told_on_each_side() -> None:
    cloth = seen(around(2, 3, 5, 4), **POSE)
    free = measure_cloth(LETTER, lying(), seen(PRINT, **POSE), cloth, focal_px=FOCAL, middle_px=MIDDLE)
    for told, true in zip((free.top, free.right, free.bottom, free.left), (2, 3, 5, 4), strict=True):
        assert true * INCH - 3 <= told <= true * INCH


def test_cloth_drawn_askew_counts_only_where_it_certainly_is() -> None:
    askew = around(2, 3, 5, 4)
    askew[0, 0] += 1.5
    askew[0, 1] += 0.5
    free = measure_cloth(LETTER, lying(), seen(PRINT, **POSE), seen(askew, **POSE), middle_px=MIDDLE)
    assert free.left == pytest.approx(2.5 * INCH, abs=3)
    assert free.top == pytest.approx(1.5 * INCH, abs=3)
    assert free.right == pytest.approx(3 * INCH, abs=3)


def test_cloth_that_ends_within_the_print_is_none_at_all() -> None:
    free = measure_cloth(CARD, lying(CARD), seen(PRINT, **POSE), seen(around(-1, 1, 1, 1), **POSE))
    assert free.top == 0


def test_cloth_as_large_as_the_print_leaves_nothing() -> None:
    taps = seen(PRINT, **POSE)
    assert measure_cloth(LETTER, lying(), taps, taps) == Sides()


def test_corners_of_the_cloth_on_a_line_are_refused_by_name() -> None:
    with pytest.raises(BadInput) as caught:
        measure_cloth(LETTER, lying(), seen(PRINT, **POSE), [(0, 0), (10, 0), (900, 0), (500, 1)])
    assert caught.value.field == "cloth_px"
