"""Photographs that come with scikit-image: a palette does not depend on how the picture is held."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from skimage import data

from planner.colour import Palette, difference, read_palette
from planner.colour.picture import vision

NAMES = ("astronaut", "chelsea", "coffee", "rocket", "immunohistochemistry", "retina")
TURNS = {
    "turned left": lambda image: np.rot90(image),
    "upside down": lambda image: np.rot90(image, 2),
    "mirrored": lambda image: image[:, ::-1],
    "half as large": lambda image: scaled(image, 0.5),
    "seven tenths as large": lambda image: scaled(image, 0.7),
    "twice as large": lambda image: scaled(image, 2.0),
}


def scaled(image: np.ndarray, by: float) -> np.ndarray:
    cv2 = vision()
    how = cv2.INTER_AREA if by < 1 else cv2.INTER_CUBIC
    return cv2.resize(image, None, fx=by, fy=by, interpolation=how)


@cache
def photograph(name: str) -> np.ndarray:
    return np.ascontiguousarray(getattr(data, name)())


@cache
def palette_of(name: str) -> Palette:
    return read_palette(photograph(name))


def moved(one: Palette, other: Palette) -> float:
    """How far the colors of one lie from the nearest of the other, by their shares, the greater way round."""

    def way(here: Palette, there: Palette) -> float:
        swatches = (there.ground, *there.prints)
        return sum(
            each.share * min(float(difference(each.lab, swatch.lab)) for swatch in swatches)
            for each in (here.ground, *here.prints)
        )

    return max(way(one, other), way(other, one))


@pytest.mark.parametrize("name", NAMES)
def test_the_shares_add_up_to_one(name):
    palette = palette_of(name)
    assert palette.ground.share + sum(each.share for each in palette.prints) == pytest.approx(1, abs=1e-9)


@pytest.mark.parametrize("turn", TURNS)
@pytest.mark.parametrize("name", NAMES)
def test_a_turned_or_scaled_picture_has_the_same_palette(name, turn):
    other = read_palette(np.ascontiguousarray(TURNS[turn](photograph(name))))
    assert difference(palette_of(name).ground.lab, other.ground.lab) <= 2
    assert moved(palette_of(name), other) <= 2
