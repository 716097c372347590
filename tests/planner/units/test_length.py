"""Lengths as typed: exact, or refused with what to write instead."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.problems import BadInput
from planner.units import INCH, METRE, MM, YARD, parse_length

SIXTY_FOURTH, TENTH_MM = INCH // 64, MM // 10


def test_the_inch_is_exactly_25_point_4_millimetres():
    # International yard and pound agreement, 1959: 1 yd = 0.9144 m.
    assert Fraction(YARD, METRE) == Fraction("0.9144")
    assert Fraction(INCH, MM) == Fraction("25.4")


def test_a_tick_is_the_largest_unit_in_which_both_grids_are_whole():
    # 1/64 in = 0.396875 mm and 0.1 mm: their greatest common divisor is 1/320 mm.
    a, b = Fraction("25.4") / 64, Fraction("0.1")
    while b:
        a, b = b, a % b
    assert a == Fraction(1, 320)
    assert (SIXTY_FOURTH, TENTH_MM) == (127, 32)


@pytest.mark.parametrize(
    ("text", "unit", "ticks"),
    [
        ("12 3/8", "in", 12 * INCH + 3 * INCH // 8),
        ("12⅜", "in", 12 * INCH + 3 * INCH // 8),
        ('12⅜"', "mm", 12 * INCH + 3 * INCH // 8),
        ("12 ⅜ in", "mm", 12 * INCH + 3 * INCH // 8),
        ("⅜", "in", 3 * INCH // 8),
        ("½ yd", "in", YARD // 2),
        ("12-3/8", "in", 12 * INCH + 3 * INCH // 8),
        ("12 3⁄8", "in", 12 * INCH + 3 * INCH // 8),
        ("12.375", "in", 12 * INCH + 3 * INCH // 8),
        (".5", "in", INCH // 2),
        ("12,5", "in", 25 * INCH // 2),
        ("12″", "cm", 12 * INCH),
        ("12''", "cm", 12 * INCH),
        ("12”", "cm", 12 * INCH),
        ("2′", "in", 24 * INCH),
        ("3 feet", "in", YARD),
        ("1 1/8 yards", "in", 9 * YARD // 8),
        ("31.4 cm", "in", 314 * MM),
        ("31,4cm", "in", 314 * MM),
        ("3.2", "mm", 16 * MM // 5),
        ("1.37 m", "in", 1370 * MM),
        ("１２ ｉｎ", "cm", 12 * INCH),
        ("  12 IN. ", "cm", 12 * INCH),
        ("0", "in", 0),
    ],
)
def test_a_length_may_be_typed_in_many_ways(text, unit, ticks):
    assert parse_length(text, unit=unit) == ticks


@pytest.mark.parametrize(
    ("sign", "sixty_fourths"),
    [("½", 32), ("¼", 16), ("¾", 48), ("⅛", 8), ("⅜", 24), ("⅝", 40), ("⅞", 56)],
)
def test_every_fraction_sign_of_a_ruler_is_read(sign, sixty_fourths):
    assert parse_length(f"7{sign}", unit="in") == 7 * INCH + sixty_fourths * SIXTY_FOURTH


@given(st.integers(0, 200 * 64))
def test_every_sixty_fourth_of_an_inch_is_read_exactly(sixty_fourths):
    whole, part = divmod(sixty_fourths, 64)
    for text in (f"{whole} {part}/64 in", f"{Fraction(sixty_fourths, 64)}"):
        assert parse_length(text, unit="in") == sixty_fourths * SIXTY_FOURTH


@given(st.integers(0, 100_000))
def test_every_tenth_of_a_millimetre_is_read_exactly_in_every_metric_unit(tenths):
    written = {"mm": 1, "cm": 2, "m": 4}
    for unit, places in written.items():
        whole, part = divmod(tenths, 10**places)
        assert parse_length(f"{whole}.{part:0{places}d} {unit}", unit="in") == tenths * TENTH_MM


def test_a_length_off_the_inch_grid_names_both_neighbours():
    with pytest.raises(BadInput, match=r"12 19/64 in or 12 5/16 in") as caught:
        parse_length("12.3 in", unit="cm")
    assert caught.value.field == "length"


@pytest.mark.parametrize(
    ("text", "unit", "neighbours"),
    [
        ("12.34", "mm", "12.3 mm or 12.4 mm"),
        ("1.234 cm", "in", "1.23 cm or 1.24 cm"),
        ("0.00005 m", "in", "0 m or 0.0001 m"),
        ("1/3", "in", "21/64 in or 11/32 in"),
        ("1.3 ft", "in", "15 19/32 in or 15 39/64 in"),
        ("0.001", "in", "0 in or 1/64 in"),
    ],
)
def test_a_length_off_its_grid_is_refused_never_rounded(text, unit, neighbours):
    with pytest.raises(BadInput) as caught:
        parse_length(text, unit=unit)
    assert caught.value.message.endswith(f"write {neighbours}.")


@given(st.decimals(0, 100, places=3, allow_nan=False))
def test_the_neighbours_named_are_lengths_on_either_side_of_what_was_typed(inches):
    text = f"{inches} in"
    exact = Fraction(inches) * INCH
    try:
        assert parse_length(text, unit="in") == exact
    except BadInput as fault:
        below, above = fault.message.split("write ")[1].rstrip(".").split(" or ")
        low, high = parse_length(below, unit="in"), parse_length(above, unit="in")
        assert low < exact < high
        assert high - low == SIXTY_FOURTH


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "in",
        "abc",
        "12 in in",
        "12 3",
        "1/2/3",
        "12²",
        "1e3",
        "12 in 5",
        "1,234",
        "--5",
        "NaN",
        "1 /",
        "½½",
    ],
)
def test_what_is_not_a_length_is_refused_with_an_example(text):
    with pytest.raises(BadInput, match="12 3/8"):
        parse_length(text, unit="in")


@pytest.mark.parametrize("text", ["-5", "-1/2 in", "−3 cm"])
def test_a_length_below_nothing_is_refused(text):
    with pytest.raises(BadInput):
        parse_length(text, unit="in")


@pytest.mark.parametrize("text", ["1/0", "12 3/0 in"])
def test_a_fraction_over_nothing_is_refused(text):
    with pytest.raises(BadInput, match="divides by nothing"):
        parse_length(text, unit="in")


@pytest.mark.parametrize("text", ["12 furlong", "12 px", "3 yardz"])
def test_an_unknown_unit_is_refused_naming_the_known_ones(text):
    with pytest.raises(BadInput, match="in, ft, yd, mm, cm, m"):
        parse_length(text, unit="in")


def test_a_shop_cannot_measure_in_an_unknown_unit():
    with pytest.raises(BadInput) as caught:
        parse_length("12", unit="ell")
    assert caught.value.field == "unit"
