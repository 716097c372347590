"""A block drawn over a shirt lies where the camera would see it."""

from __future__ import annotations

import numpy as np
import pytest

from planner.measure import seen_on
from planner.units import INCH, Size
from tests.planner.measure.pictures import oblong, seen

POSE = {"above": 40.0, "tilt": 22.0, "toward": 130.0, "roll": 9.0}


def test_places_round_a_print_are_seen_where_the_camera_sees_them() -> None:
    size = Size(10 * INCH, 12 * INCH)
    places = [(0, 0), (10 * INCH, 12 * INCH), (-2 * INCH, -3 * INCH), (13 * INCH, 5 * INCH)]
    on_table = np.array([[x / INCH - 5, y / INCH - 6] for x, y in places])
    at = seen_on(size, seen(oblong(10, 12), **POSE), places)
    assert np.array(at) == pytest.approx(seen(on_table, **POSE), abs=1e-4)


def test_an_upright_picture_is_only_scaled() -> None:
    at = seen_on(Size(10, 20), [(100, 100), (200, 100), (200, 300), (100, 300)], [(5, -10)])
    assert at[0] == pytest.approx((150.0, 0.0))
