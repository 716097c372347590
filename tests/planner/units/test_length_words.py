"""Lengths as shown: fractions of an inch, metric with a point, and "about" when not exact."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.problems import BadInput
from planner.units import INCH, METRE, MM, YARD, parse_length, show_length

# The finest length each unit can say exactly: its own grid, or a 64th of the unit.
GRID = {
    "in": INCH // 64,
    "ft": 12 * INCH // 64,
    "yd": YARD // 64,
    "mm": MM // 10,
    "cm": MM // 10,
    "m": MM // 10,
}


@pytest.mark.parametrize("unit", GRID)
@given(steps=st.integers(0, 20_000))
def test_a_length_on_the_grid_comes_back_from_its_words_unchanged(unit, steps):
    ticks = steps * GRID[unit]
    words = show_length(ticks, unit=unit)
    assert "about" not in words
    assert parse_length(words, unit="mm" if unit == "in" else "in") == ticks


@pytest.mark.parametrize("unit", GRID)
@given(ticks=st.integers(0, 10_000_000))
def test_words_without_about_say_exactly_the_length(unit, ticks):
    words = show_length(ticks, unit=unit)
    if not words.startswith("about "):
        assert parse_length(words, unit=unit) == ticks


@pytest.mark.parametrize(
    ("ticks", "unit", "words"),
    [
        (99 * INCH // 8, "in", "12 3/8 in"),
        (INCH // 2, "in", "1/2 in"),
        (12 * INCH, "in", "12 in"),
        (0, "in", "0 in"),
        (-INCH // 2, "in", "-1/2 in"),
        (YARD * 9 // 8, "yd", "1 1/8 yd"),
        (314 * MM, "cm", "31.4 cm"),
        (314 * MM, "mm", "314 mm"),
        (1370 * MM, "m", "1.37 m"),
        (-MM // 10, "mm", "-0.1 mm"),
    ],
)
def test_a_length_is_shown_in_the_shops_unit(ticks, unit, words):
    assert show_length(ticks, unit=unit) == words


def test_a_metric_length_shown_in_inches_says_about():
    assert show_length(MM * 100, unit="in") == "about 3 15/16 in"


def test_an_inch_length_shown_in_centimetres_says_about():
    assert show_length(INCH // 64, unit="cm") == "about 0.04 cm"
    assert show_length(INCH // 2, unit="cm") == "1.27 cm"


@pytest.mark.parametrize(
    ("ticks", "unit", "rounding", "words"),
    [
        (INCH + 1, "in", "up", "about 1 1/8 in"),
        (INCH, "in", "up", "1 in"),
        (INCH + INCH // 16, "in", "nearest", "about 1 1/8 in"),
        (INCH + INCH // 16 - 1, "in", "nearest", "about 1 in"),
        (77 * INCH // 2, "yd", "up", "about 1 1/8 yd"),
        (METRE + 1, "m", "up", "about 1.01 m"),
    ],
)
def test_rounding_is_to_an_eighth_or_the_metric_step_and_says_about(ticks, unit, rounding, words):
    assert show_length(ticks, unit=unit, rounding=rounding) == words


def test_rounding_up_goes_to_the_step_that_cloth_is_sold_in():
    # 38 1/2 in of sashing is 1 1/8 yd of cloth ("Lesson 11, math for quilt sashings and borders").
    assert show_length(77 * INCH // 2, unit="yd", step=YARD // 8, rounding="up").endswith("1 1/8 yd")


@given(st.integers(0, 10_000_000), st.sampled_from(["in", "yd", "cm"]))
def test_rounding_up_never_shows_less(ticks, unit):
    shown = show_length(ticks, unit=unit, rounding="up").removeprefix("about ")
    assert parse_length(shown, unit=unit) >= ticks


def test_a_step_the_unit_cannot_say_exactly_is_shown_as_about():
    assert show_length(INCH // 8, unit="mm", step=INCH // 8, rounding="nearest").startswith("about ")


@pytest.mark.parametrize(
    ("given_", "field"),
    [
        ({"unit": "ell"}, "unit"),
        ({"unit": "in", "rounding": "down"}, "rounding"),
        ({"unit": "in", "step": -1}, "step"),
    ],
)
def test_a_senseless_way_of_showing_is_refused(given_, field):
    with pytest.raises(BadInput) as caught:
        show_length(INCH, **given_)
    assert caught.value.field == field
