"""The color group that a person would name."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.colour import FAMILIES, Palette, Swatch, count_families, difference, family, family_names

LAB = st.tuples(st.floats(0, 100), st.floats(-100, 100), st.floats(-100, 100))
# What a CSS name ends in, and the groups that a person who knows the name could say.
SAID = {
    "white": {"white", "cream"},
    "gray": {"grey", "blue", "teal"},
    "grey": {"grey", "blue", "teal"},
    "black": {"black"},
    "tan": {"tan"},
    "brown": {"brown", "pink"},
    "red": {"red"},
    "orange": {"orange"},
    "yellow": {"yellow", "cream"},
    "green": {"green", "teal"},
    "blue": {"blue", "white"},
    "purple": {"purple"},
    "violet": {"purple"},
    "pink": {"pink"},
}
OTHERWISE = {
    "violetred": {"pink", "purple"},
    "orangered": {"orange", "red"},
    "rosybrown": {"pink", "brown"},
    "cadetblue": {"blue", "teal"},
    "slateblue": {"blue", "purple"},
    "greenyellow": {"green", "yellow"},
    "sandybrown": {"brown", "tan", "orange"},
}


def css_names(check_data: Path) -> list[tuple[str, tuple[float, float, float]]]:
    """W3C CSS Color Module Level 4, with Lab by IEC 61966-2-1 and CIE 15."""
    with (check_data / "colour" / "css_named_lab_oklab.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    return [(row["css_name"], tuple(float(row[key]) for key in ("L_D65", "a", "b"))) for row in rows]


def said(name: str) -> set[str] | None:
    endings = {**SAID, **OTHERWISE}
    found = [ending for ending in endings if name.endswith(ending)]
    return endings[max(found, key=len)] if found else None


def test_a_named_color_falls_into_the_group_of_its_name(check_data: Path):
    # A regression test, not a validation: the rules were written with such names in mind.
    named = [(name, lab, said(name)) for name, lab in css_names(check_data) if said(name)]
    assert len(named) > 45
    assert [(name, family(lab).name) for name, lab, right in named if family(lab).name not in right] == []


@given(LAB)
def test_every_color_belongs_to_a_known_group_and_is_beside_another(lab):
    found = family(lab)
    assert found.name in FAMILIES
    assert found.beside in FAMILIES
    assert found.margin >= 0


def test_the_margin_is_how_far_the_nearest_edge_is():
    lab = (55.0, 30.0, 10.0)
    found = family(lab)
    rng = np.random.default_rng(3)
    near = np.array(lab) + rng.normal(0, 12, (20_000, 3))
    near = near[(near[:, 0] >= 0) & (near[:, 0] <= 100)]
    others = family_names(near) != found.name
    nearest = difference(np.array(lab), near[others]).min()
    assert found.margin == pytest.approx(nearest, rel=0.15)


def test_a_middling_green_is_far_from_any_edge_and_a_teal_gray_is_not():
    assert family((45.0, -45.0, 35.0)).margin > 10
    assert family((60.0, -5.0, -4.0)).margin < 3


def test_many_colors_at_once_get_the_names_they_get_alone():
    labs = np.random.default_rng(4).uniform((0, -60, -60), (100, 60, 60), (200, 3))
    assert family_names(labs).tolist() == [family(tuple(lab)).name for lab in labs]


def test_shirts_are_counted_by_their_ground_the_largest_group_first():
    red, blue, white = (45.0, 65.0, 45.0), (35.0, 20.0, -60.0), (96.0, 0.0, 0.0)
    bag = {"3": red, "1": blue, "2": red, "10": white}
    palettes = {id_: Palette(Swatch(lab)) for id_, lab in bag.items()}
    counted = count_families(palettes)
    assert list(counted) == ["red", "white", "blue"]
    assert counted["red"] == ("2", "3")
    assert count_families(dict(reversed(palettes.items()))) == counted


def test_a_bag_with_no_shirts_has_no_groups():
    assert count_families({}) == {}
