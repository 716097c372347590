"""How well words can be read on a color: the contrast ratio of WCAG 2."""

from __future__ import annotations

import numpy as np
import pytest

from planner.colour import contrast_ratio


def ratio(one: str, other: str) -> float:
    """The contrast of two colors written rrggbb."""
    return float(contrast_ratio(*(tuple(bytes.fromhex(each)) for each in (one, other))))


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        ("000000", "ffffff", 21),  # WCAG 2.2, definition of contrast ratio: 1 to 21
        ("767676", "ffffff", 4.5422),  # widely printed as the darkest gray: 4.54, passes 4.5
        ("777777", "ffffff", 4.4781),  # printed 4.48, fails 4.5
        ("999999", "ffffff", 2.8490),  # printed 2.85 in two articles
        ("1e293b", "ffffff", 14.6287),  # printed 14.63
        ("ff0000", "ffffff", 3.9985),  # by the formula of WCAG 2, worked separately
        ("0000ff", "ffffff", 8.5925),
        ("008000", "ffffff", 5.1374),
        ("ffff00", "000000", 19.556),
    ],
)
def test_contrast_is_that_of_wcag(one, other, expected):
    assert ratio(one, other) == pytest.approx(expected, abs=0.0005)


@pytest.mark.parametrize(
    ("one", "other", "printed", "right"),
    [
        ("707070", "ffffff", 3.12, 4.9521),
        ("949494", "ffffff", 2.44, 3.0335),
        ("6b7280", "ffffff", 4.0, 4.8345),
        ("333333", "cccccc", 6.64, 7.8675),
    ],
)
def test_figures_that_three_articles_print_wrongly_are_not_reproduced(one, other, printed, right):
    # The formula of WCAG 2 contradicts what these articles print for their own colors.
    assert ratio(one, other) == pytest.approx(right, abs=0.0005)
    assert abs(ratio(one, other) - printed) > 0.5


def test_contrast_does_not_depend_on_which_is_the_ink():
    assert ratio("23283a", "faf6ef") == ratio("faf6ef", "23283a")


def test_a_color_on_itself_cannot_be_read():
    assert ratio("47624d", "47624d") == 1


def test_the_break_of_the_curve_may_be_printed_either_way():
    # WCAG 2.0 prints 0.03928, IEC 61966-2-1 has 0.04045; no 8-bit value falls between.
    assert not any(0.03928 < value / 255 <= 0.04045 for value in range(256))


def test_many_inks_are_compared_with_one_ground_at_once():
    inks = np.array([[0, 0, 0], [118, 118, 118]], dtype=np.uint8)
    assert contrast_ratio(inks, (255, 255, 255)) == pytest.approx([21, 4.5422], abs=0.0005)
