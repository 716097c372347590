"""The shirt is found in its picture: on drawn photographs whose outline is known."""

from __future__ import annotations

import numpy as np
import pytest

from planner.colour import find_shirt
from planner.problems import BadInput

from .studio import GARMENTS, HARD_CAST, HEIGHT, SOFT, WIDTH, photograph


def overlap(one: np.ndarray, other: np.ndarray) -> float:
    """What both hold, as a share of what either holds."""
    return float((one & other).sum() / (one | other).sum())


@pytest.mark.parametrize("garment", ["white", "black", "navy", "red", "sand", "kelly"])
@pytest.mark.parametrize("light", [SOFT, HARD_CAST], ids=["soft", "hard shadow and cast"])
def test_the_outline_holds_the_shirt_and_little_else(garment, light):
    # SIMULATION: a plain table and a shirt that differs from it by 14 CIEDE2000 or more.
    shot = photograph(GARMENTS[garment], light, 3)
    assert overlap(find_shirt(shot.image).mask, shot.mask) > 0.95


def test_the_polygon_goes_round_the_mask_in_pixels_of_the_picture():
    shot = photograph(GARMENTS["red"], SOFT, 0)
    found = find_shirt(shot.image)
    x, y = np.array(found.polygon).T
    rows, columns = np.nonzero(found.mask)
    assert found.mask.shape == (HEIGHT, WIDTH)
    assert len(found.polygon) >= 8
    assert (x.min(), x.max()) == pytest.approx((columns.min(), columns.max()), abs=4)
    assert (y.min(), y.max()) == pytest.approx((rows.min(), rows.max()), abs=4)


def test_the_same_picture_has_the_same_outline_each_time():
    shot = photograph(GARMENTS["teal"], HARD_CAST, 1)
    before = shot.image.copy()
    one, other = find_shirt(shot.image), find_shirt(shot.image)
    np.testing.assert_array_equal(one.mask, other.mask)
    assert one.polygon == other.polygon
    np.testing.assert_array_equal(shot.image, before)


def test_a_shirt_that_lies_clear_is_surer_than_a_black_one_on_a_black_table():
    clear = find_shirt(photograph(GARMENTS["red"], SOFT, 2).image)
    lost = find_shirt(photograph(GARMENTS["black"], SOFT, 2, tables=("202024",)).image)
    assert clear.confidence > 0.9
    assert lost.confidence < 0.4


def test_in_one_flat_color_no_shirt_is_found_with_any_confidence():
    found = find_shirt(np.full((300, 200, 3), 90, np.uint8))
    assert found.confidence == 0
    assert found.mask.shape == (300, 200)


def two_piles() -> np.ndarray:
    """A red shirt left of the middle and a blue cloth to its right, on a pale table."""
    image = np.full((300, 400, 3), (225, 222, 215), np.uint8)
    image[60:250, 40:230] = (190, 40, 50)
    image[90:230, 230:360] = (40, 70, 170)
    return image


def test_one_tap_takes_away_what_is_not_the_shirt():
    image = two_piles()
    red, blue = (image == (190, 40, 50)).all(axis=2), (image == (40, 70, 170)).all(axis=2)
    assert find_shirt(image).mask[blue].mean() > 0.9
    corrected = find_shirt(image, other=[(300, 160)])
    assert corrected.mask[blue].mean() < 0.05
    assert corrected.mask[red].mean() > 0.95


def test_one_tap_adds_a_part_of_the_shirt_that_was_missed():
    image = np.full((300, 400, 3), (120, 90, 60), np.uint8)
    image[60:250, 40:260] = (190, 40, 50)
    image[60:250, 262:390] = (240, 240, 235)
    white = (image == (240, 240, 235)).all(axis=2)
    assert find_shirt(image).mask[white].mean() < 0.5
    assert find_shirt(image, shirt=[(330, 150)]).mask[white].mean() > 0.9


@pytest.mark.parametrize("field", ["shirt", "other"])
def test_a_tap_beside_the_picture_is_refused(field):
    with pytest.raises(BadInput) as caught:
        find_shirt(two_piles(), **{field: [(400, 10)]})
    assert caught.value.field == field


@pytest.mark.parametrize(
    "image",
    [
        np.zeros((40, 40), np.uint8),
        np.zeros((40, 40, 4), np.uint8),
        np.zeros((40, 40, 3), np.uint16),
        np.zeros((40, 40, 3)),
        np.zeros((4, 400, 3), np.uint8),
        np.zeros((0, 0, 3), np.uint8),
    ],
    ids=["gray", "see-through", "16 bits", "floats", "a strip", "nothing"],
)
def test_what_is_no_picture_of_three_channels_is_refused_by_name(image):
    with pytest.raises(BadInput) as caught:
        find_shirt(image)
    assert caught.value.field == "image"
