"""Conversions of color, against published values and an independent library."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest
from coloraide import Color
from skimage.color import rgb2lab

from planner.colour import family, lab_to_srgb, srgb_to_lab, srgb_to_oklab
from planner.colour.convert import (
    lab_to_linear,
    lab_to_oklab,
    linear_to_lab,
    oklab_to_lab,
    srgb_to_linear,
    xyz_to_oklab,
)


def rgb_of(hex_: str) -> tuple[int, int, int]:
    """The three 8-bit numbers of a color written #rrggbb."""
    return tuple(int(hex_[at : at + 2], 16) for at in (1, 3, 5))


@pytest.mark.parametrize(
    ("hex_", "lab"),
    [
        ("#ff0000", (53.24, 80.09, 67.20)),
        ("#00ff00", (87.74, -86.18, 83.19)),
        ("#0000ff", (32.30, 79.19, -107.86)),
        ("#808080", (53.585, 0, 0)),
    ],
)
def test_the_primaries_have_their_published_lab(hex_, lab):
    # IEC 61966-2-1:1999 with CIE 15, D65, two degrees; three libraries agree within 0.02.
    assert srgb_to_lab(rgb_of(hex_)) == pytest.approx(lab, abs=0.02)


def test_white_is_white_and_black_is_black():
    assert srgb_to_lab((255, 255, 255)) == pytest.approx((100, 0, 0), abs=1e-9)
    assert srgb_to_lab((0, 0, 0)) == pytest.approx((0, 0, 0), abs=1e-9)


def test_every_gray_has_no_hue():
    grays = np.repeat(np.arange(256)[:, None], 3, axis=1)
    assert np.abs(srgb_to_lab(grays)[:, 1:]).max() < 1e-9
    assert np.abs(srgb_to_oklab(grays)[:, 1:]).max() < 1e-4


def test_named_colors_have_their_published_lab_and_oklab(check_data: Path):
    # Names and hex: W3C CSS Color Module Level 4; Lab by IEC 61966-2-1 and CIE 15; OKLab by B. Ottosson.
    with (check_data / "colour" / "css_named_lab_oklab.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) >= 98
    rgb = [rgb_of(row["hex"]) for row in rows]
    lab = [[float(row[name]) for name in ("L_D65", "a", "b")] for row in rows]
    oklab = [[float(row[name]) for name in ("ok_L", "ok_a", "ok_b")] for row in rows]
    np.testing.assert_allclose(srgb_to_lab(rgb), lab, atol=0.05, rtol=0)
    np.testing.assert_allclose(srgb_to_oklab(rgb), oklab, atol=0.0001, rtol=0)


@pytest.mark.parametrize(
    ("xyz", "oklab"),
    [
        ((0.950, 1.000, 1.089), (1.000, 0.000, 0.000)),
        ((1.0, 0.0, 0.0), (0.450, 1.236, -0.019)),
        ((0.0, 1.0, 0.0), (0.922, -0.671, 0.263)),
        ((0.0, 0.0, 1.0), (0.153, -1.415, -0.449)),
    ],
)
def test_oklab_has_its_authors_values(xyz, oklab):
    # B. Ottosson, "A perceptual color space for image processing" (2020), table of pairs.
    assert xyz_to_oklab(xyz) == pytest.approx(oklab, abs=0.001)


def test_ten_thousand_random_colors_convert_as_two_independent_libraries_do():
    rgb = np.random.default_rng(5).integers(0, 256, (10_000, 3))
    colors = [Color("srgb", each / 255) for each in rgb]
    lab = [each.convert("lab-d65").coords() for each in colors]
    oklab = [each.convert("oklab").coords() for each in colors]
    np.testing.assert_allclose(srgb_to_lab(rgb), lab, atol=0.001, rtol=0)
    np.testing.assert_allclose(srgb_to_oklab(rgb), oklab, atol=1e-5, rtol=0)
    # scikit-image rounds the matrix and the white point, so it agrees less closely.
    np.testing.assert_allclose(srgb_to_lab(rgb), rgb2lab(rgb / 255), atol=0.03, rtol=0)


def test_there_and_back_is_the_same_color():
    lab = np.random.default_rng(9).uniform((0, -100, -100), (100, 100, 100), (500, 3))
    np.testing.assert_allclose(oklab_to_lab(lab_to_oklab(lab)), lab, atol=1e-9)
    np.testing.assert_allclose(linear_to_lab(lab_to_linear(lab)), lab, atol=1e-9)
    rgb = np.random.default_rng(10).uniform(0, 1, (200, 3))
    np.testing.assert_allclose(lab_to_linear(srgb_to_lab(rgb)), srgb_to_linear(rgb), atol=1e-9)


# The 24 patches by their maker's names, and the groups that a person could say.
CHECKER = {
    "dark skin": "brown",
    "light skin": "pink tan orange",
    "blue sky": "blue",
    "foliage": "green",
    "blue flower": "blue purple",
    "bluish green": "teal green",
    "orange": "orange",
    "purplish blue": "blue purple",
    "moderate red": "red pink",
    "purple": "purple",
    "yellow green": "green yellow",
    "orange yellow": "orange yellow",
    "blue": "blue",
    "green": "green",
    "red": "red",
    "yellow": "yellow",
    "magenta": "pink purple",
    "cyan": "blue teal",
    "white": "white",
    "neutral 8": "grey",
    "neutral 6.5": "grey",
    "neutral 5": "grey",
    "neutral 3.5": "grey",
    "black": "black",
}


def test_the_color_checker_under_daylight_is_named_as_its_maker_names_it(check_data: Path):
    # Maker's data of 2005 (CIELAB, D50); taken to D65 by coloraide (Bradford), then by our own conversion.
    with (check_data / "colour" / "colorchecker_2005_lab_d50.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == 24
    wrong = []
    for row in rows:
        printed = Color("lab", [float(row[key]) for key in ("L", "a", "b")])
        ours = linear_to_lab(printed.convert("srgb-linear").coords())
        np.testing.assert_allclose(ours, printed.convert("lab-d65").coords(), atol=0.01)
        name = row["patch"].split(" (")[0].removesuffix(" 9.5").removesuffix(" 2")
        if family(tuple(ours)).name not in CHECKER[name].split():
            wrong.append((row["patch"], family(tuple(ours)).name))
    assert wrong == []


@pytest.mark.parametrize("convert", [srgb_to_lab, srgb_to_oklab])
def test_integers_and_shares_of_one_mean_the_same_color(convert):
    rgb = np.array([[0, 1, 10], [11, 128, 255]], dtype=np.uint8)
    np.testing.assert_allclose(convert(rgb), convert(rgb / 255.0), atol=1e-12)


def test_a_whole_picture_converts_as_its_pixels_do():
    image = np.random.default_rng(6).integers(0, 256, (4, 5, 3), dtype=np.uint8)
    whole = srgb_to_lab(image)
    assert whole.shape == (4, 5, 3)
    np.testing.assert_array_equal(whole[2, 3], srgb_to_lab(image[2, 3]))


def test_lab_goes_back_to_the_same_srgb():
    colors = np.random.default_rng(1).integers(0, 256, (2000, 3))
    assert np.array_equal(lab_to_srgb(srgb_to_lab(colors)), colors)


def test_a_color_no_screen_shows_is_clipped():
    assert lab_to_srgb((50.0, 150.0, -150.0)).tolist()[1] == 0
