"""The palette of a shirt: ground and prints with their shares, the light put right by a neutral."""

from __future__ import annotations

import numpy as np
import pytest

from planner.colour import Neutral, Outline, difference, family, find_shirt, read_palette, srgb_to_lab
from planner.colour.convert import srgb_to_linear
from planner.problems import BadInput
from planner.units import Rect

from .studio import GARMENTS, SOFT, photograph

RED, WHITE, BLUE = (190, 40, 50), (240, 238, 232), (35, 80, 176)


def halves(one=RED, other=WHITE, share=0.5) -> np.ndarray:
    """A picture of two flat colors side by side."""
    image = np.full((200, 300, 3), one, np.uint8)
    image[:, round(300 * (1 - share)) :] = other
    return image


def everything(image: np.ndarray) -> Outline:
    return Outline(np.ones(image.shape[:2], bool), (), 1.0)


def coded(linear: np.ndarray) -> np.ndarray:
    """IEC 61966-2-1, from linear light to 8 bits."""
    linear = np.clip(linear, 0, 1)
    return np.rint(
        255 * np.where(linear <= 0.0031308, linear * 12.92, 1.055 * linear ** (1 / 2.4) - 0.055)
    ).astype(np.uint8)


def test_two_flat_halves_are_two_colors_with_half_each():
    palette = read_palette(halves())
    colors = [palette.ground, *palette.prints]
    assert [each.share for each in colors] == pytest.approx([0.5, 0.5], abs=0.01)
    wanted = [srgb_to_lab(RED), srgb_to_lab(WHITE)]
    assert max(min(difference(each.lab, lab) for lab in wanted) for each in colors) < 0.5


@pytest.mark.parametrize("share", [0.1, 0.25, 0.4])
def test_the_share_of_a_print_is_its_area(share):
    palette = read_palette(halves(share=share), crop=(0, 0, 300, 200))
    assert palette.prints[0].share == pytest.approx(share, abs=0.01)
    assert difference(palette.ground.lab, srgb_to_lab(RED)) < 0.5


def test_one_flat_color_is_all_ground():
    palette = read_palette(np.full((120, 90, 3), BLUE, np.uint8))
    assert palette.prints == ()
    assert palette.ground.share == 1
    assert difference(palette.ground.lab, srgb_to_lab(BLUE)) < 0.1


def test_a_crop_is_all_that_is_looked_at():
    image = halves()
    for crop in ((150, 0, 150, 200), Rect(150, 0, 150, 200)):
        palette = read_palette(image, crop=crop)
        assert palette.ground.share == 1
        assert difference(palette.ground.lab, srgb_to_lab(WHITE)) < 0.5


def test_a_crop_within_an_outline_keeps_to_both():
    image = halves()
    left = everything(image)
    left.mask[:, 150:] = False
    assert (
        difference(read_palette(image, outline=left, crop=(100, 0, 200, 200)).ground.lab, srgb_to_lab(RED))
        < 0.5
    )
    with pytest.raises(BadInput) as caught:
        read_palette(image, outline=left, crop=(200, 0, 50, 200))
    assert caught.value.field == "crop"


def test_an_outline_of_another_picture_is_refused():
    with pytest.raises(BadInput) as caught:
        read_palette(halves(), outline=Outline(np.ones((10, 10), bool), (), 1.0))
    assert caught.value.field == "outline"


@pytest.mark.parametrize("gain", [(1.1, 1.0, 0.85), (0.7, 0.75, 0.8), (0.9, 1.0, 1.1)])
def test_any_light_with_its_neutral_gives_the_same_palette(gain):
    scene = srgb_to_linear(halves((120, 60, 60), (150, 150, 120), 0.3))
    scene[:30, :30] = 0.6
    neutral = Neutral(15, 15, 10, 0.6)
    crop = (40, 40, 260, 160)
    plain = read_palette(coded(scene), crop=crop, neutral=neutral)
    lit = read_palette(coded(scene * gain), crop=crop, neutral=neutral)
    assert difference(plain.ground.lab, lit.ground.lab) < 0.6
    assert difference(plain.prints[0].lab, lit.prints[0].lab) < 0.6


@pytest.mark.parametrize(
    ("spot", "says"),
    [
        (RED, "is a color"),
        ((255, 255, 255), "too bright"),
        ((12, 12, 12), "too dark"),
    ],
)
def test_a_neutral_that_cannot_be_one_is_refused_with_the_reason(spot, says):
    image = halves()
    image[:60, :60] = spot
    with pytest.raises(BadInput, match=says) as caught:
        read_palette(image, neutral=Neutral(30, 30, 15, 0.85))
    assert caught.value.field == "neutral"


def test_a_neutral_that_covers_more_than_one_thing_is_refused():
    image = halves((235, 235, 235), (90, 90, 92))
    with pytest.raises(BadInput, match="more than one color"):
        read_palette(image, neutral=Neutral(150, 100, 40, 0.85))


def test_a_neutral_beside_the_picture_is_refused():
    with pytest.raises(BadInput, match="within the picture"):
        read_palette(halves(), neutral=Neutral(300, 10, 5, 0.85))


@pytest.mark.parametrize(
    ("radius", "reflectance", "field"), [(0, 0.85, "radius"), (5, 0, "reflectance"), (5, 18, "reflectance")]
)
def test_a_neutral_of_no_size_or_no_reflectance_cannot_be_built(radius, reflectance, field):
    with pytest.raises(BadInput) as caught:
        Neutral(10, 10, radius, reflectance)
    assert caught.value.field == field


def test_paper_under_a_yellow_bulb_is_taken_for_a_neutral():
    scene = np.full((100, 100, 3), 0.85) * (1.0, 0.8, 0.55)
    palette = read_palette(coded(scene), neutral=Neutral(50, 50, 20, 0.85))
    assert np.abs(palette.ground.lab[1:]).max() < 1


def test_a_neutral_makes_the_palette_surer_and_without_one_it_says_so():
    shot = photograph(GARMENTS["sky"], SOFT, 1)
    outline = Outline(shot.mask, (), 1.0)
    sure, guessed = (
        read_palette(shot.image, outline=outline, neutral=shot.neutral),
        read_palette(shot.image, outline=outline),
    )
    assert sure.confidence > 0.9 > guessed.confidence
    assert not any("white or gray" in note for note in sure.notes)
    assert any("white or gray" in note for note in guessed.notes)


def test_a_black_shirt_on_a_black_table_is_a_guess_and_says_so():
    shot = photograph(GARMENTS["black"], SOFT, 2, tables=("202024",))
    palette = read_palette(shot.image, outline=find_shirt(shot.image))
    assert palette.confidence < 0.4
    assert any("told from what it lies on" in note for note in palette.notes)


def test_a_picture_that_is_black_all_over_is_a_guess_and_says_so():
    palette = read_palette(np.full((200, 150, 3), 24, np.uint8))
    assert palette.confidence < 0.5
    assert any("take the photo in more light" in note for note in palette.notes)


def test_a_heather_knit_is_the_mean_of_its_yarns_and_says_so():
    # SIMULATION: 35 % of pale flecks in a blue-gray cloth.
    shot = photograph(GARMENTS["charcoal"], SOFT, 0, yarn="f0f0ec", heather=0.35)
    palette = read_palette(shot.image, outline=Outline(shot.mask, (), 1.0), neutral=shot.neutral)
    assert difference(palette.ground.lab, shot.ground) < 3
    assert any("yarns" in note for note in palette.notes)
    assert palette.ground.share > 0.7


def test_stripes_are_two_colors_and_no_heather():
    image = np.full((320, 280, 3), WHITE, np.uint8)
    image[np.arange(320) // 8 % 2 == 0] = BLUE
    palette = read_palette(image)
    assert len(palette.prints) == 1
    assert palette.prints[0].share == pytest.approx(0.5, abs=0.06)
    assert not any("yarns" in note for note in palette.notes)


def test_a_pale_shirt_in_a_dim_room_is_not_called_gray():
    # SIMULATION: seven tenths of the light, on a dark table.
    shot = photograph(GARMENTS["white"], SOFT, 5, tables=("4f4238",))
    dim = coded(srgb_to_linear(shot.image) * 0.7)
    seen = srgb_to_lab(np.median(dim[shot.mask], axis=0).astype(np.uint8))
    assert family(tuple(seen)).name == "grey"
    assert family(read_palette(dim, outline=find_shirt(dim)).ground.lab).name in ("white", "cream")


def test_the_picture_that_was_passed_in_is_left_as_it_is():
    image = halves()
    before = image.copy()
    read_palette(image)
    np.testing.assert_array_equal(image, before)
