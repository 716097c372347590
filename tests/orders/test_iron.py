"""Where an iron with dots is turned to.

Published with the care symbols (ISO 3758): one dot 110 °C, two 150 °C, three 200 °C at most; from memory.
"""

import pytest

from orders.iron import DOTS, dial


@pytest.mark.parametrize(("dots", "celsius"), [(1, 110), (2, 150), (3, 200)])
def test_a_dot_is_as_hot_as_its_care_symbol_allows(dots, celsius):
    assert dict(DOTS)[dots] == celsius * 9 / 5 + 32


@pytest.mark.parametrize(
    ("limit", "turn"),
    [(0, 0), (229, 0), (230, 1), (270, 1), (301, 1), (302, 2), (391, 2), (392, 3), (500, 3)],
)
def test_the_iron_is_never_turned_past_the_limit(limit, turn):
    assert dial(limit).turn == turn


def test_the_hand_never_stands_behind_the_limit():
    assert all(dial(limit).hand <= dial(limit).limit for limit in range(100, 501) if dial(limit).turn)


def test_the_limit_stands_between_the_dots_it_lies_between():
    one, two = dial(230).hand, dial(302).hand
    assert one < dial(270).limit < two
