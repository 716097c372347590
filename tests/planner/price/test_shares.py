"""Dividing a sum: the parts add up exactly."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.price import split
from planner.problems import BadInput
from planner.units import Money

WEIGHT = st.one_of(st.integers(0, 10**6), st.decimals(0, 1000, places=3))
WEIGHTS = st.lists(WEIGHT, min_size=1, max_size=12).filter(any)
MINOR = st.integers(-(10**12), 10**12)


def cents(total: int, *weights) -> list[int]:
    """The parts of a sum of cents."""
    return [part.minor for part in split(Money(total, "USD"), weights)]


@pytest.mark.parametrize(
    ("total", "weights", "parts"),
    [
        (23486, (1, 1, 1), [7829, 7829, 7828]),  # trade handbook S8: three instalments
        (81855, (1, 1), [40928, 40927]),  # trade handbook S3: each child pays half
        (163710, (1, 1), [81855, 81855]),
        (100, (1, 1, 1), [34, 33, 33]),
        (-100, (1, 1, 1), [-34, -33, -33]),
        (0, (1, 2), [0, 0]),
        (1, (0, 1, 1), [0, 1, 0]),
        (100, (Decimal("0.5"), Decimal("0.25"), Decimal("0.25")), [50, 25, 25]),
        (10, (1, 1, 4), [2, 2, 6]),  # 1.67, 1.67, 6.67: two left over, ties to the first
    ],
)
def test_a_sum_is_divided_by_largest_remainder_first_first(total, weights, parts):
    assert cents(total, *weights) == parts


@pytest.mark.parametrize(
    ("votes", "seats", "parts"),
    [
        # Published worked examples of the largest remainder method (Hare quota), from memory of the
        # encyclopedia article: 100 000 votes, 10 seats.
        ((47000, 16000, 15800, 12000, 6100, 3100), 10, [5, 2, 1, 1, 1, 0]),
    ],
)
def test_parts_agree_with_a_published_example_of_largest_remainder(votes, seats, parts):
    assert cents(seats, *votes) == parts


@given(MINOR, WEIGHTS)
def test_the_parts_add_up_and_none_is_a_whole_unit_off_its_share(minor, weights):
    parts = cents(minor, *weights)
    whole = sum(map(Fraction, weights))
    assert sum(parts) == minor
    for part, weight in zip(parts, weights, strict=True):
        assert abs(part - minor * Fraction(weight) / whole) < 1


@given(MINOR, WEIGHTS)
def test_who_has_no_weight_gets_nothing(minor, weights):
    assert all(part == 0 for part, weight in zip(cents(minor, *weights), weights, strict=True) if not weight)


@given(st.integers(0, 10**12), WEIGHTS)
def test_more_weight_never_gets_less(minor, weights):
    by_weight = sorted(zip(weights, cents(minor, *weights), strict=True))
    for (light, less), (heavy, more) in pairwise(by_weight):
        assert light == heavy or less <= more


@given(MINOR, WEIGHTS)
def test_a_sum_below_nothing_is_divided_like_its_opposite(minor, weights):
    assert cents(-minor, *weights) == [-part for part in cents(minor, *weights)]


@pytest.mark.parametrize(
    ("weights", "field"),
    [
        ((), "weights"),
        ((0, 0), "weights"),
        ((1, -1), "weights[1]"),
        ((1, 0.5), "weights[1]"),
        ((True,), "weights[0]"),
        ((Decimal("NaN"), 1), "weights[0]"),
    ],
)
def test_weights_that_make_no_sense_are_refused(weights, field):
    with pytest.raises(BadInput) as caught:
        split(Money(100, "USD"), weights)
    assert caught.value.field == field
