"""Where the hand of an iron with dots is drawn, and the limit beside it."""

import pytest

from orders.bench.iron import dial
from planner.care import ISO_DOTS, Tool


@pytest.mark.parametrize(
    ("limit", "turn", "short"),
    [
        (0, 0, False), (224, 0, False), (230, 1, False), (270, 1, False), (300, 2, True), (302, 2, False),
        (386, 2, False), (392, 3, False), (500, 3, False),
    ],
)  # fmt: skip
def test_the_hand_points_where_the_setting_says(limit, turn, short):
    assert (dial(limit).turn, dial(limit).short) == (turn, short)


def test_the_hand_never_stands_behind_the_limit():
    drawn = [dial(limit) for limit in range(100, 501)]
    assert len([place for place in drawn if place.turn]) > 250
    assert all(place.hand <= place.limit for place in drawn if place.turn)


def test_a_hand_just_short_of_a_dot_stands_before_it():
    assert dial(270).hand < dial(300).hand < dial(302).hand


def test_the_limit_stands_between_the_dots_it_lies_between():
    one, two = dial(ISO_DOTS[0]).hand, dial(ISO_DOTS[1]).hand
    assert one < dial(270).limit < two


def test_an_iron_that_runs_hot_reaches_the_limit_sooner():
    assert dial(302, Tool("old iron", hotter=20)).limit < dial(302).limit
