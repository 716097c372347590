"""Things of known size that lie in the picture, and what was measured."""

from __future__ import annotations

import pytest

from planner.measure import A4, CARD, LETTER, MAT_12, Reference
from planner.problems import BadInput
from planner.units import INCH, MM, Size


def test_a_bank_card_lies_within_the_standard_to_a_tenth_of_a_millimetre():
    # ISO/IEC 7810:2019, ID-1: 85.60 mm by 53.98 mm.
    assert abs(CARD.size.width - 85.60 * MM) <= MM / 10
    assert abs(CARD.size.height - 53.98 * MM) <= MM / 10


def test_a4_is_exactly_the_standard_size():
    # ISO 216:2007: A4 is 210 mm by 297 mm.
    assert sorted((A4.size.width, A4.size.height)) == [210 * MM, 297 * MM]


def test_a4_follows_the_rule_of_its_series():
    # ISO 216: A0 is a square metre in the proportion 1 to the root of 2, each size half the one before,
    # whole millimetres rounded down.
    short, long = sorted((A4.size.width // MM, A4.size.height // MM))
    assert short == int(1000 * 2 ** (-9 / 4))
    assert long == int(1000 * 2 ** (-7 / 4) + 0.5)


def test_letter_paper_is_eight_and_a_half_by_eleven_inches():
    # ANSI/ASME Y14.1, size A.
    assert sorted((LETTER.size.width, LETTER.size.height)) == [17 * INCH // 2, 11 * INCH]


def test_a_mat_is_known_by_twelve_inches_of_its_grid():
    assert Reference("grid", Size(12 * INCH, 12 * INCH)) == MAT_12


@pytest.mark.parametrize(
    ("kind", "size", "field"),
    [("banana", Size(MM, MM), "kind"), ("card", Size(0, MM), "size"), ("card", Size(MM, 0), "size")],
)
def test_a_reference_without_a_known_size_cannot_be_built(kind, size, field):
    with pytest.raises(BadInput) as caught:
        Reference(kind, size)
    assert caught.value.field == field
