"""The setting of the shop's own tool.

Outside figures: the dots of ISO 3758:2012, at most 110, 150 and 200 °C, as standards notices and
garment-care pages quote it; the edition of 2023 was not seen. Temperatures convert by their definition,
°F = °C × 9/5 + 32.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.care import ISO_DOTS, NO_HEAT, Setting, Tool, setting, ways_out
from planner.problems import BadInput, Impossible

HAND_IRON = Tool("iron")
PRESS = Tool("heat press", kind="press", least=200, most=450, step=5)
COOL_PRESS = Tool("small press", kind="press", unit="C", least=80, most=200, step=5)


def celsius(fahrenheit: int) -> Fraction:
    return Fraction(fahrenheit - 32) * 5 / 9


@pytest.mark.parametrize(("dots", "degrees"), [(1, 110), (2, 150), (3, 200)])
def test_the_dots_of_iso_3758_are_whole_in_fahrenheit(dots: int, degrees: int) -> None:
    assert celsius(ISO_DOTS[dots - 1]) == degrees


def of(tool: Tool, limit: int, **more: object) -> Setting:
    found = setting(tool, limit, **more)
    assert isinstance(found, Setting)
    return found


@pytest.mark.parametrize(
    ("limit", "dots", "short"),
    [
        (230, 1, False), (250, 1, False), (270, 1, False), (296, 1, False), (297, 2, True), (300, 2, True),
        (302, 2, False), (386, 2, False), (387, 3, True), (392, 3, False), (445, 3, False),
    ],
)  # fmt: skip
def test_an_iron_is_turned_to_the_hottest_dot_that_stays_under(limit: int, dots: int, short: bool) -> None:
    found = of(HAND_IRON, limit)
    assert (found.dots, found.short, found.heat <= limit) == (dots, short, True)


def test_the_usual_print_of_a_cotton_tee_is_pressed_at_the_wool_setting() -> None:
    """Fusing guides say wool setting, about 300 °F (handbook 3.4, P5): wool is two dots in ISO 3758."""
    assert of(HAND_IRON, 300).words == "Turn to just short of two dots"


def test_an_iron_that_runs_hot_is_turned_down() -> None:
    assert of(Tool("old iron", hotter=15), 302).dots == 1
    assert of(Tool("old iron", unit="C", hotter=8), 302).dots == 1  # 8 °C is 14.4 °F


@pytest.mark.parametrize(
    ("tool", "limit", "degrees"),
    [
        (PRESS, 265, 265),
        (PRESS, 268, 265),
        (Tool("p", kind="press", hotter=12, least=200, most=450, step=5), 265, 250),
        (Tool("p", kind="press", hotter=-10, least=200, most=450, step=5), 265, 275),
        (PRESS, 460, 450),  # no hotter than it goes
        (COOL_PRESS, 265, 125),  # 265 °F is 129.4 °C
        (COOL_PRESS, 302, 150),
    ],
)
def test_a_press_shows_the_limit_less_what_it_runs_hotter(tool: Tool, limit: int, degrees: int) -> None:
    assert of(tool, limit).degrees == degrees
    assert of(tool, limit).words == f"Set {degrees} °{tool.unit}"


@given(
    limit=st.integers(100, 460),
    hotter=st.integers(-60, 60),
    step=st.integers(1, 25),
    unit=st.sampled_from("FC"),
    kind=st.sampled_from(["iron", "press"]),
)
def test_no_tool_is_ever_set_hotter_than_the_limit(
    limit: int, hotter: int, step: int, unit: str, kind: str
) -> None:
    """Worked again from the definition of the two scales, not from the planner's own rounding."""
    found = setting(Tool("t", kind=kind, unit=unit, hotter=hotter, least=60, most=300, step=step), limit)
    if isinstance(found, Impossible):
        return
    if kind == "press":
        real = Fraction(found.degrees + hotter)
        assert (real if unit == "F" else real * 9 / 5 + 32) <= limit
        assert found.degrees % step == 0
    elif not found.short:
        runs = Fraction(hotter) if unit == "F" else Fraction(hotter) * 9 / 5
        assert Fraction(ISO_DOTS[found.dots - 1]) + runs <= limit
    assert found.heat <= limit


@pytest.mark.parametrize(
    ("tool", "limit"),
    [
        (HAND_IRON, 229 - 5), (HAND_IRON, NO_HEAT), (PRESS, NO_HEAT), (PRESS, 199),
        (Tool("p", kind="press", hotter=40, least=240, most=450, step=5), 265),
    ],
)  # fmt: skip
def test_a_tool_that_cannot_hold_the_limit_is_refused_with_two_ways_out(tool: Tool, limit: int) -> None:
    refused = setting(tool, limit)
    assert isinstance(refused, Impossible)
    (problem,) = refused.problems
    assert tool.name in problem.what
    assert problem.where == (tool.name,)
    assert problem.change.count(" Or: ") == 1


def test_another_tool_of_the_shop_is_the_first_way_out() -> None:
    first, second = ways_out(210, others=(PRESS,))
    assert first == "Take the heat press instead. Set 210 °F."
    assert "cold" in second


def test_without_another_tool_the_back_comes_before_the_cold_way() -> None:
    first, second = ways_out(210)
    assert first.startswith("From the back")
    assert "cold" in second


def test_where_no_heat_is_allowed_both_ways_are_cold() -> None:
    """A hot tool must not be proposed for a coated windbreaker (S4, 13)."""
    assert all("instead" not in way for way in ways_out(NO_HEAT, others=(PRESS,)))


def test_a_setting_too_cool_for_the_interfacing_says_so_with_two_ways_out() -> None:
    """One dot is 230 °F at most; low-heat tricot bonds at 250."""
    found = of(HAND_IRON, 265, bonds_at=250, others=(HAND_IRON, PRESS))
    assert not found.bonds
    assert found.ways[0] == "Take the heat press instead. Set 265 °F."
    assert len(found.ways) == 2
    assert of(PRESS, 265, bonds_at=250).bonds
    assert of(HAND_IRON, 300, bonds_at=300).bonds


@pytest.mark.parametrize(
    ("facts", "field"),
    [
        ({"name": " "}, "name"),
        ({"name": "t", "kind": "kettle"}, "kind"),
        ({"name": "t", "unit": "K"}, "unit"),
        ({"name": "t", "hotter": 500}, "hotter"),
        ({"name": "t", "kind": "press", "least": 300, "most": 200}, "least"),
        ({"name": "t", "kind": "press", "least": 0, "most": 200}, "least"),
        ({"name": "t", "kind": "press", "least": 100, "most": 200, "step": 0}, "step"),
        ({"name": "t", "dots": (300, 200)}, "dots"),
    ],
)
def test_a_tool_that_makes_no_sense_cannot_be_built(facts: dict[str, object], field: str) -> None:
    with pytest.raises(BadInput) as fault:
        Tool(**facts)
    assert fault.value.field == field
