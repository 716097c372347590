"""How far apart two colors are to the eye: CIEDE2000."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st
from skimage.color import deltaE_ciede2000

from planner.colour import difference

LAB = st.tuples(st.floats(0, 100), st.floats(-128, 128), st.floats(-128, 128))


def outside(one, other) -> float:
    """The same difference as coloraide has it."""
    return Color("lab-d65", one).delta_e(Color("lab-d65", other), method="2000")


def test_all_34_published_pairs_come_out_to_four_decimals(check_data: Path):
    # G. Sharma, W. Wu, E. N. Dalal, Color Res. Appl. 30 (2005) 21-30, table 1.
    with (check_data / "colour" / "ciede2000_sharma_wu_dalal_2005.csv").open(encoding="utf-8") as file:
        rows = [[float(each) for each in row] for row in list(csv.reader(file))[1:]]
    table = np.array(rows)
    assert len(table) == 34
    found = difference(table[:, 1:4], table[:, 4:7])
    np.testing.assert_allclose(found, table[:, 7], atol=0.00005001, rtol=0)


@pytest.mark.parametrize(
    ("one", "other", "apart"),
    [
        ((50, 2.49, -0.001), (50, -2.49, 0.0010), 7.1792),
        ((50, 2.49, -0.001), (50, -2.49, 0.0011), 7.2195),
        ((50, -0.001, 2.49), (50, 0.0010, -2.49), 4.8045),
        ((50, -0.001, 2.49), (50, 0.0011, -2.49), 4.7461),
        ((50, 2.5, 0), (50, 0, -2.5), 4.3065),
        ((2.0776, 0.0795, -1.1350), (0.9033, -0.0636, -0.5514), 0.9082),
    ],
)
def test_the_published_pairs_that_catch_a_wrong_mean_hue_come_out_right(one, other, apart):
    # Pairs 10, 11, 14, 15, 16 and 34 of the same table.
    assert round(float(difference(one, other)), 4) == apart


def test_ten_thousand_random_pairs_agree_with_two_independent_libraries():
    # coloraide and scikit-image, neither of which shares code with the other.
    rng = np.random.default_rng(7)
    low, high = (0, -100, -100), (100, 100, 100)
    one, other = rng.uniform(low, high, (10_000, 3)), rng.uniform(low, high, (10_000, 3))
    found = difference(one, other)
    np.testing.assert_allclose(found, [outside(a, b) for a, b in zip(one, other, strict=True)], atol=1e-9)
    np.testing.assert_allclose(found, deltaE_ciede2000(one, other), atol=1e-9)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ((50, 0, 0), (60, 0, 0)),
        ((50, 0, 0), (50, 30, -40)),
        ((50, 0, 10), (50, 0, -5)),
        ((50, 10, 0), (40, -10, 0)),
        ((50, 30, -1e-12), (50, 30, 1e-12)),
    ],
)
def test_grays_and_opposite_hues_agree_with_an_independent_library(one, other):
    assert difference(one, other) == pytest.approx(outside(one, other), abs=1e-9)


@given(LAB, LAB)
def test_the_difference_is_the_same_both_ways_and_never_below_nothing(one, other):
    there, back = float(difference(one, other)), float(difference(other, one))
    assert there >= 0
    assert there == pytest.approx(back, abs=1e-9)


@given(LAB)
def test_a_color_does_not_differ_from_itself(lab):
    assert difference(lab, lab) == 0


def test_one_color_is_compared_with_many_at_once():
    many = np.random.default_rng(8).uniform(0, 50, (3, 4, 3))
    apart = difference((50.0, 0.0, 0.0), many)
    assert apart.shape == (3, 4)
    assert apart[1, 2] == difference((50.0, 0.0, 0.0), many[1, 2])
