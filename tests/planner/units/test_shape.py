"""Flat shapes in whole ticks."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.problems import BadInput
from planner.units import INCH, Rect, Sides, Size

SPOT = st.integers(-8, 8)
SPAN = st.integers(0, 8)
RECTS = st.builds(Rect, SPOT, SPOT, SPAN, SPAN)


def spots(rect: Rect) -> set[tuple[int, int]]:
    """Every unit square of a small rectangle."""
    return {(x, y) for x in range(rect.x, rect.right) for y in range(rect.y, rect.bottom)}


@pytest.mark.parametrize(
    ("shape", "numbers", "field"),
    [
        (Size, (1.5, 1), "width"),
        (Size, (1, True), "height"),
        (Size, (-1, 1), "width"),
        (Sides, (0, 0, -1, 0), "bottom"),
        (Sides, (0.0,), "top"),
        (Rect, (0, 0, -1, 1), "width"),
        (Rect, (0, 0, 1, -1), "height"),
        (Rect, (0.5, 0, 1, 1), "x"),
    ],
)
def test_a_shape_of_fractions_or_below_nothing_cannot_be_built(shape, numbers, field):
    with pytest.raises(BadInput) as caught:
        shape(*numbers)
    assert caught.value.field == field


def test_a_place_may_lie_left_of_and_above_the_origin():
    assert Rect(-3, -4, 5, 6).right == 2
    assert Rect(-3, -4, 5, 6).bottom == 2


def test_a_size_has_an_area_and_grows_both_ways():
    assert Size(50 * INCH, 66 * INCH).area == 3300 * INCH**2
    assert Size(3, 4).grown(2) == Size(5, 6)


def test_sides_run_clockwise_from_the_top():
    assert Rect(0, 0, 10, 20).less(Sides(1, 2, 3, 4)) == Rect(4, 1, 4, 16)
    assert Sides.all_round(3) == Sides(3, 3, 3, 3)


def test_sides_of_nothing_are_false():
    assert not Sides()
    assert Sides(left=1)


def test_more_cannot_be_taken_off_than_there_is():
    with pytest.raises(BadInput):
        Rect(0, 0, 10, 10).less(Sides.all_round(6))


@given(RECTS, RECTS)
def test_two_places_overlap_just_when_they_share_a_spot(one, other):
    if spots(one) and spots(other):
        assert one.overlaps(other) == bool(spots(one) & spots(other))


@pytest.mark.parametrize(("x", "y"), [(4, 0), (-4, 0), (0, 3), (0, -3), (4, 3)])
def test_places_that_only_touch_do_not_overlap(x, y):
    assert not Rect(0, 0, 4, 3).overlaps(Rect(x, y, 4, 3))


@given(RECTS, RECTS)
def test_a_place_holds_another_just_when_it_has_all_its_spots(one, other):
    if spots(other):
        assert one.holds(other) == (spots(other) <= spots(one))
