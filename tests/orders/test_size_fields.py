"""Two sides typed in one field, and a length that may go the other way."""

from __future__ import annotations

import pytest
from django.forms import ValidationError

from orders.forms.sizes import SizeField, WayField
from planner.units import INCH, MM, Size

EIGHTH = INCH // 8


@pytest.mark.parametrize(
    ("typed", "size"),
    [
        ("11×13", Size(11 * INCH, 13 * INCH)),
        ("11x13", Size(11 * INCH, 13 * INCH)),
        ("11 X 13", Size(11 * INCH, 13 * INCH)),
        ("11*13", Size(11 * INCH, 13 * INCH)),
        ("11 by 13", Size(11 * INCH, 13 * INCH)),
        ("11 1/2 x 13", Size(11 * INCH + 4 * EIGHTH, 13 * INCH)),
        ("11½ × 13⅜ in", Size(11 * INCH + 4 * EIGHTH, 13 * INCH + 3 * EIGHTH)),
        ('11" x 13.25"', Size(11 * INCH, 13 * INCH + 2 * EIGHTH)),
        ("28 × 33 cm", Size(280 * MM, 330 * MM)),
        ("28 cm x 13 in", Size(280 * MM, 13 * INCH)),
        ("0×0", Size(0, 0)),
    ],
)
def test_both_sides_are_read_however_they_are_typed(typed, size):
    assert SizeField(unit="in", most=80 * INCH).clean(typed) == size


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("11", "across × down"),
        ("11×13×2", "across × down"),
        ("eleven × 13", "is not a length"),
        ("11.3 × 13", "finer than 1/64 in"),
        ("11×900", "more than 80 in"),
        ("0×13", "both sides"),
        ("-3×13", "is not a length"),
    ],
)
def test_what_is_no_size_is_refused_with_what_to_type(typed, words):
    with pytest.raises(ValidationError) as caught:
        SizeField(unit="in", most=80 * INCH).clean(typed)
    assert words in caught.value.messages[0]


@pytest.mark.parametrize("unit", ["in", "cm"])
def test_a_size_is_shown_as_it_can_be_typed_again(unit):
    field = SizeField(unit=unit, most=80 * INCH)
    for size in (Size(11 * INCH + 3 * EIGHTH, 13 * INCH), Size(281 * MM, 330 * MM)):
        assert field.clean(field.prepare_value(size)) == size


@pytest.mark.parametrize(
    ("typed", "ticks"),
    [("1/2", 4 * EIGHTH), ("-1/2", -4 * EIGHTH), ("− 0.25", -2 * EIGHTH), ("", 0), ("0", 0)],
)
def test_a_way_may_go_back(typed, ticks):
    field = WayField(unit="in", most=40 * INCH, required=False)
    assert field.clean(typed) == ticks
    assert field.clean(field.prepare_value(ticks)) == ticks
