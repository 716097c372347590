"""A cloth described from its swatch: against simulated swatches whose truth is known."""

from __future__ import annotations

import numpy as np
import pytest

from planner.colour import Neutral, describe_fabric, difference, srgb_to_lab
from planner.problems import BadInput
from tests.planner.colour import swatches

TEAL, WHITE, NAVY, GOLD, RED = (40, 160, 150), (250, 250, 245), (31, 42, 77), (226, 167, 30), (179, 32, 44)
MANY = [(224, 48, 48), (240, 224, 64), (48, 160, 64), (48, 96, 192), (128, 64, 160)]


def shares(look):
    return [look.palette.ground.share, *(each.share for each in look.palette.prints)]


def off(swatch, color):
    return float(difference(swatch.lab, srgb_to_lab(list(color))))


@pytest.mark.parametrize(
    ("picture", "kind"),
    [
        (swatches.solid(NAVY), "solid"),
        (swatches.solid(WHITE), "solid"),
        (swatches.clouds(RED, lump=25, depth=0.12), "mottled"),
        (swatches.clouds(GOLD, lump=60, depth=0.12), "mottled"),
        (swatches.dots(TEAL, WHITE, step=40, radius=10), "blender"),
        (swatches.stripes(NAVY, GOLD, 60), "blender"),
        (swatches.patches(MANY, 50), "multi"),
    ],
)
def test_the_kind_is_what_a_person_would_say(picture, kind):
    assert describe_fabric(picture).kind == kind


def test_the_colors_and_their_shares_are_those_of_the_cloth():
    look = describe_fabric(swatches.dots(TEAL, WHITE, step=40, radius=12))
    assert sum(shares(look)) == pytest.approx(1)
    assert look.palette.prints[0].share == pytest.approx(np.pi * 12**2 / 40**2, abs=0.015)
    assert off(look.palette.ground, TEAL) < 1
    assert off(look.palette.prints[0], WHITE) < 1


@pytest.mark.parametrize("period", [12, 30, 60, 100])
def test_a_stripe_repeats_where_it_repeats(period):
    look = describe_fabric(swatches.stripes(NAVY, GOLD, period), px_per_inch=50)
    assert look.scale == pytest.approx(period / 50, rel=0.1)


@pytest.mark.parametrize(("step", "radius"), [(20, 6), (40, 10), (80, 20), (120, 40)])
def test_dots_are_as_far_apart_as_they_are(step, radius):
    look = describe_fabric(swatches.dots(TEAL, WHITE, step=step, radius=radius), px_per_inch=50)
    assert look.scale == pytest.approx(step / 50, rel=0.1)


def test_the_scale_follows_the_ruler_and_is_not_guessed_without_one():
    picture = swatches.dots(TEAL, WHITE, step=40, radius=10)
    assert describe_fabric(picture).scale is None
    near, far = (describe_fabric(picture, px_per_inch=px).scale for px in (40, 80))
    assert near == pytest.approx(2 * far, abs=0.02)
    assert describe_fabric(swatches.solid(NAVY), px_per_inch=50).scale is None


@pytest.mark.parametrize("picture", [swatches.solid(NAVY), swatches.dots(TEAL, WHITE, step=40, radius=10)])
def test_a_slope_of_light_makes_no_pattern(picture):
    flat, sloping = describe_fabric(picture), describe_fabric(swatches.in_light(picture, slope=0.35))
    assert sloping.kind == flat.kind
    assert sloping.busy / sloping.value == pytest.approx(flat.busy / flat.value, abs=0.04)


def test_a_tapped_neutral_takes_the_color_of_the_light_away():
    picture = swatches.dots(TEAL, (200, 90, 60), step=40, radius=12)
    picture[:60] = (190, 190, 190)  # gray paper along the edge
    paper = Neutral(300, 20, 12, reflectance=float(((190 / 255 + 0.055) / 1.055) ** 2.4))
    plain = describe_fabric(picture, neutral=paper)
    yellow = swatches.in_light(picture, gain=(1.0, 0.9, 0.7))
    kept = describe_fabric(yellow, neutral=paper)
    assert off_each(plain, kept) < 1.0 < off_each(plain, describe_fabric(yellow))
    assert kept.palette.confidence > describe_fabric(yellow).palette.confidence


def off_each(one, other):
    return float(difference(one.palette.ground.lab, other.palette.ground.lab))


def test_hues_are_counted_as_groups():
    assert describe_fabric(swatches.solid((128, 128, 128))).hues == 0
    assert describe_fabric(swatches.clouds(RED, lump=25, depth=0.12)).hues == 1
    assert describe_fabric(swatches.stripes(NAVY, GOLD, 60)).hues == 2
    assert describe_fabric(swatches.patches(MANY, 50)).hues >= 4


def test_busy_rises_from_plain_to_many_colors():
    order = [
        swatches.solid(RED), swatches.clouds(RED, lump=25, depth=0.12),
        swatches.dots(TEAL, WHITE, step=40, radius=10), swatches.patches(MANY, 50),
    ]  # fmt: skip
    busy = [describe_fabric(each).busy for each in order]
    assert busy == sorted(busy)
    assert busy[0] < 0.05
    assert busy[-1] == 1


def test_turned_and_mirrored_it_is_the_same_cloth():
    picture = swatches.dots(TEAL, WHITE, step=40, radius=10)
    straight, turned = (
        describe_fabric(picture, px_per_inch=50),
        describe_fabric(picture[::-1, ::-1].transpose(1, 0, 2), px_per_inch=50),
    )
    assert (straight.kind, straight.hues) == (turned.kind, turned.hues)
    assert straight.scale == pytest.approx(turned.scale, rel=0.02)
    assert off_each(straight, turned) < 0.5


def test_the_edge_of_the_photo_is_left_out_so_that_a_ruler_may_lie_there():
    picture = swatches.solid(NAVY)
    picture[:55] = (245, 210, 60)
    look = describe_fabric(picture)
    assert look.kind == "solid"
    assert off(look.palette.ground, NAVY) < 1


@pytest.mark.parametrize("lightness", [(5, 5, 5), (255, 255, 255)])
def test_plain_black_and_plain_white_are_solid(lightness):
    assert describe_fabric(swatches.solid(lightness)).kind == "solid"


@pytest.mark.parametrize(
    ("picture", "change", "field"),
    [
        (np.zeros((50, 50), np.uint8), {}, "image"),
        (np.zeros((50, 50, 3), float), {}, "image"),
        (np.zeros((3, 3, 3), np.uint8), {}, "image"),
        (swatches.solid(NAVY), {"px_per_inch": 0}, "px_per_inch"),
        (swatches.solid(NAVY), {"px_per_inch": float("nan")}, "px_per_inch"),
        (swatches.solid(RED), {"neutral": Neutral(300, 300, 20, 0.85)}, "neutral"),
    ],
)
def test_what_cannot_be_read_is_refused_by_name(picture, change, field):
    with pytest.raises(BadInput) as fault:
        describe_fabric(picture, **change)
    assert fault.value.field == field
