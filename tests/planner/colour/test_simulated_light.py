"""SIMULATION: how near the palette comes to colors that are known, by kind of light.

The goals are those the work was set: with a neutral 0.5 / 1.0 CIEDE2000 (median / 90 %) in soft light and
2.0 / 4.0 in a hard shadow with a cast; without one 3.5 / 6.5. Real photographs will be worse.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from planner.colour import Outline, Palette, difference, read_palette

from .studio import GARMENTS, HARD, HARD_CAST, SOFT, SOFT_CAST, Light, Shot, lab_of, photograph

pytestmark = pytest.mark.slow

BARE = replace(SOFT_CAST, paper=False)  # nothing white lies in the picture


@cache
def shots(light: Light, heather: float = 0.0) -> list[Shot]:
    """Two shirts of each of the 18 garment colors; a heather's second yarn is pale, in pale cloth dark."""
    return [
        photograph(hex_, light, seed, yarn="f0f0ec" if lab_of(hex_)[0] < 60 else "55565a", heather=heather)
        for hex_ in GARMENTS.values()
        for seed in (0, 1)
    ]


def read(shot: Shot, *, neutral: bool) -> Palette:
    return read_palette(
        shot.image, outline=Outline(shot.mask, (), 1.0), neutral=shot.neutral if neutral else None
    )


def errors(seen: list[Shot], *, neutral: bool) -> np.ndarray:
    """CIEDE2000 between the ground that was read and the true one."""
    return np.array([difference(read(shot, neutral=neutral).ground.lab, shot.ground) for shot in seen])


@pytest.mark.parametrize(
    ("light", "median", "most"),
    [(SOFT, 0.5, 1.0), (SOFT_CAST, 0.5, 1.0), (HARD, 2.0, 4.0), (HARD_CAST, 2.0, 4.0)],
    ids=["soft", "soft with a cast", "hard shadow", "hard shadow with a cast"],
)
def test_with_a_neutral_the_ground_comes_out_right(light, median, most):
    off = errors(shots(light), neutral=True)
    assert np.median(off) <= median
    assert np.quantile(off, 0.9) <= most


@pytest.mark.parametrize(
    "light", [SOFT_CAST, BARE, HARD_CAST], ids=["white in the picture", "nothing white", "hard shadow"]
)
def test_without_a_neutral_the_ground_comes_out_about_right(light):
    off = errors(shots(light), neutral=False)
    assert np.median(off) <= 3.5
    assert np.quantile(off, 0.9) <= 6.5


@pytest.mark.parametrize("light", [SOFT, replace(SOFT, paper=False)], ids=["white in it", "nothing white"])
def test_what_was_taken_in_good_light_is_hardly_made_worse_by_judging_the_light(light):
    off = errors(shots(light), neutral=False)
    assert np.median(off) <= 1.5
    assert np.quantile(off, 0.9) <= 2.5


def test_where_a_color_is_far_off_the_confidence_is_low():
    seen = [shot for light in (SOFT, SOFT_CAST, HARD_CAST, BARE) for shot in shots(light)]
    palettes = [read(shot, neutral=False) for shot in seen]
    off = np.array([difference(p.ground.lab, shot.ground) for p, shot in zip(palettes, seen, strict=True)])
    sure = np.array([palette.confidence for palette in palettes])
    assert (off > 5).sum() >= 5
    assert sure[off > 5].mean() < sure[off <= 5].mean() - 0.1
    assert off[sure > np.median(sure)].mean() < 0.6 * off[sure <= np.median(sure)].mean()


def test_a_heather_knit_is_nearer_its_mean_than_the_first_trial_came():
    # The first trial stood at 3.2 / 5.5.
    off = errors(shots(SOFT_CAST, 0.35), neutral=True)
    assert np.median(off) <= 2.5
    assert np.quantile(off, 0.9) <= 4.0


@pytest.mark.parametrize("light", [SOFT, HARD_CAST], ids=["soft", "hard shadow with a cast"])
def test_the_print_areas_are_within_a_point(light):
    seen = shots(light)
    palettes = [read(shot, neutral=True) for shot in seen]
    true = [1 - sum(share for _, share in shot.prints) for shot in seen]
    off = 100 * np.abs([palette.ground.share - share for palette, share in zip(palettes, true, strict=True)])
    assert np.quantile(off, 0.9) <= 1.0
    found = [
        any(difference(swatch.lab, lab) < 15 for swatch in palette.prints)
        for palette, shot in zip(palettes, seen, strict=True)
        for lab, share in shot.prints
        if share > 0.015
    ]
    assert np.mean(found) > 0.97
