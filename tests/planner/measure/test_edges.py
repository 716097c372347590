"""Edges of what was tapped, found in drawn pictures (SIMULATION; see drawn_pictures.py)."""

from __future__ import annotations

import numpy as np
import pytest

from planner.measure import edges_near, grid_near, measure
from planner.units import INCH
from tests.planner.measure.drawn_pictures import drawn
from tests.planner.measure.pictures import FOCAL, MIDDLE, Picture, picture

KNOWN = {"focal_px": FOCAL, "middle_px": MIDDLE}
LINE = 3.0
PICTURES = 24
ASKED = {  # inches, each picture
    "mat": 0.06,
    "sheet on the print": 0.10,
    "sheet beside it": 0.10,
    "card on the shirt": 0.25,
    "card beside it": 0.50,
}


def found(made: Picture, light: np.ndarray, tapped: np.ndarray):
    near = grid_near if made.reference.kind == "grid" else edges_near
    return near(light, tapped, sigma=1.5)


def line_of(scene: str) -> float | None:
    return LINE if scene == "mat" else None


@pytest.mark.slow
@pytest.mark.parametrize("scene", ASKED)
def test_with_its_edges_found_each_plus_or_minus_keeps_within_what_was_asked(scene):
    rng = np.random.default_rng(20_270_401)
    off, printed, seen = [], [], 0
    for _ in range(PICTURES):
        made = picture(rng, scene)
        tapped, print_px = made.tapped(rng)
        edges = found(made, drawn(made, rng, line=line_of(scene)), tapped)
        said = measure(made.reference, tapped, print_px, edges=edges, **KNOWN)
        seen += "its edges found" in said.method
        off.append([abs(said.width / INCH - made.size[0]), abs(said.height / INCH - made.size[1])])
        printed.append(said.plus_minus / INCH)
    assert max(printed) <= ASKED[scene]
    assert (
        np.array(off) <= np.array(printed)[:, None]
    ).mean() >= 0.9  # 48 sides of which 97 in 100 are meant
    assert seen >= PICTURES - 2


@pytest.mark.parametrize("scene", ["mat", "sheet beside it", "card on the shirt"])
def test_corners_are_found_to_a_third_of_a_pixel_from_taps_off_by_one_and_a_half(scene):
    rng = np.random.default_rng(7)
    made = picture(rng, scene)
    edges = found(made, drawn(made, rng, line=line_of(scene)), made.tapped(rng)[0])
    assert edges is not None
    assert np.hypot(*(np.array(edges.corners) - made.reference_px).T).max() < 1 / 3
    assert edges.scatter < 1.5


def test_corners_come_back_in_the_order_in_which_they_were_tapped():
    rng = np.random.default_rng(7)
    made = picture(rng, "sheet beside it")
    light, order = drawn(made, rng), [2, 0, 3, 1]
    edges = edges_near(light, made.reference_px[order], sigma=1.5)
    assert np.abs(np.array(edges.corners) - made.reference_px[order]).max() < 1 / 3


def test_a_sheet_on_cloth_as_pale_as_itself_has_no_edges_and_the_taps_stand():
    rng = np.random.default_rng(7)
    made = picture(rng, "sheet beside it")
    light = np.clip(222 + rng.normal(0, 3, (3000, 4000)), 0, 255)
    assert edges_near(light, made.tapped(rng)[0], sigma=1.5) is None


def test_an_edge_that_is_another_one_is_not_believed():
    rng = np.random.default_rng(7)
    made = picture(rng, "card on the shirt")
    tapped, print_px = made.tapped(rng)
    beside = edges_near(drawn(made, rng), tapped, sigma=1.5)
    x, y = beside.corners[1]
    bent = type(beside)((beside.corners[0], (x + 6, y - 6), *beside.corners[2:]), beside.scatter)
    plain = measure(made.reference, tapped, print_px, **KNOWN)
    assert measure(made.reference, tapped, print_px, edges=bent, **KNOWN) == plain


def test_a_thing_cut_off_by_the_rim_of_the_picture_is_no_error():
    light = np.full((60, 80), 200.0)
    assert edges_near(light, [(-5, -5), (90, -4), (91, 70), (-6, 66)], sigma=1.5) is None
    assert edges_near(light, [(2, 2), (12, 2), (12, 12), (2, 12)], sigma=0.5) is None
