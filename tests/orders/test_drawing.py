"""Drawn photographs of the demo shop."""

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from PIL import Image, ImageChops, ImageDraw, ImageStat

from orders.demo import backdrops, layers, light, sewing, table
from orders.demo.cloths import swatch
from orders.demo.drawing import shirt_photo
from orders.demo.letters import SHAPES, write
from orders.demo.looks import GROUNDS, KINDS, PATTERNS, SIDES, ShirtLook, SwatchLook
from orders.demo.motifs import MOTIFS
from orders.demo.pen import Pen
from orders.demo.prints import palette
from orders.demo.scenes import bag_photo, wall_photo
from planner.problems import BadInput

PRINTED = ShirtLook(
    ground="#234A34",
    motif="fern",
    colors=("#F4EDDC", "#E8BC4E", "#C8D7A8"),
    words=("FERNCLIFF", "STAGE CREW"),
)
HARD_TO_PACK = ShirtLook(
    kind="sweatshirt", ground="#BFC3C6", cloth="heather", number="27", words=("HARROW BAY",), ground_on="bed"
)
LARGEST_FILE = 450_000


def same(one, other):
    return ImageChops.difference(one, other).getbbox() is None


def packed(image, tmp_path):
    image.save(tmp_path / "picture.jpg", quality=85)
    return (tmp_path / "picture.jpg").stat().st_size


def lies_in(inner, outer):
    return all(outer[side] <= inner[side] < inner[side + 2] <= outer[side + 2] for side in (0, 1))


def test_the_same_look_and_seed_draw_the_same_picture():
    one, other = shirt_photo(PRINTED, seed=7), shirt_photo(PRINTED, seed=7)
    assert same(one.image, other.image)
    assert replace(one, image=None) == replace(other, image=None)


def test_another_seed_lays_the_same_shirt_down_differently():
    one, other = shirt_photo(PRINTED, seed=7), shirt_photo(PRINTED, seed=8)
    assert one.outline != other.outline
    assert one.print_box != other.print_box


def test_a_picture_is_upright_in_color_and_small_enough_for_a_page(tmp_path):
    for look in (PRINTED, HARD_TO_PACK):
        image = shirt_photo(look, seed=3).image
        assert (image.size, image.mode) == ((1500, 2000), "RGB")
        assert packed(image, tmp_path) < LARGEST_FILE


def test_looks_that_differ_in_one_thing_draw_different_pictures():
    looks = [
        PRINTED,
        replace(PRINTED, ground="#6B1F2E"),
        replace(PRINTED, side="back"),
        replace(PRINTED, cloth="heather"),
        replace(PRINTED, trim="#F4EDDC"),
        replace(PRINTED, motif="kite"),
        replace(PRINTED, words=("HARROW BAY",)),
    ]
    images = [shirt_photo(look, seed=7).image for look in looks]
    assert not [pair for pair in combinations(range(len(looks)), 2) if same(images[pair[0]], images[pair[1]])]


@pytest.mark.parametrize("kind", KINDS)
def test_print_and_panel_lie_on_the_cloth_of_every_garment(kind):
    for side, ground_on in zip(SIDES, GROUNDS[1:], strict=True):
        drawn = shirt_photo(replace(PRINTED, kind=kind, side=side, ground_on=ground_on), seed=11)
        cloth = Image.new("L", drawn.image.size, 0)
        ImageDraw.Draw(cloth).polygon(drawn.outline, fill=255)
        assert cloth.crop(drawn.panel_box).getextrema() == (255, 255)
        assert lies_in(drawn.print_box, drawn.panel_box)


def test_the_ink_is_where_the_print_box_says():
    look = replace(PRINTED, ground="#1A1A1A", motif="sun", colors=("#FFFFFF",), words=(), ground_on="mat")
    drawn = shirt_photo(look, seed=5)
    print_of = np.asarray(drawn.image.convert("L").crop(drawn.print_box))
    beside = drawn.panel_box[0], drawn.print_box[1], drawn.print_box[0] - 4, drawn.print_box[3]
    assert print_of.max() > 180
    assert np.asarray(drawn.image.convert("L").crop(beside)).max() < 100


def test_a_print_is_as_wide_on_the_picture_as_its_inches_say():
    look = replace(PRINTED, motif="compass", words=(), print_wide=10, print_tall=10)
    drawn = shirt_photo(look, seed=5)
    wide = (drawn.print_box[2] - drawn.print_box[0]) / drawn.inch
    assert 9 < wide < 10.5


def test_a_plain_garment_has_a_panel_and_no_print():
    look = ShirtLook(kind="dress shirt", ground="#A9BFD6", cloth="check", print_wide=0, print_tall=0)
    drawn = shirt_photo(look, seed=2)
    assert drawn.print_box is None
    assert drawn.panel_box[2] - drawn.panel_box[0] > 9 * drawn.inch


@pytest.mark.parametrize("name", MOTIFS)
def test_every_motif_draws_something_in_each_color_and_stays_in_its_square(name):
    colors = ("#FF0000", "#00FF00", "#0000FF")
    canvas = Image.new("RGBA", (300, 300), (0, 0, 0, 0))
    MOTIFS[name](Pen(canvas, colors, place=lambda points: points * 2 + 50, scale=2))
    pixels = np.asarray(canvas)
    for channel in range(3):
        assert (pixels[..., channel] == 255).sum() > 60
    ink = np.asarray(canvas.getchannel("A")).astype(bool)
    assert not ink[:46].any()
    assert not ink[254:].any()
    assert not ink[:, :46].any()
    assert not ink[:, 254:].any()


def test_a_print_of_one_color_still_shows_every_part_of_its_picture():
    """Inks that are not given are the first one thinned with the cloth, never the first one itself."""
    black = replace(PRINTED, ground="#000000", colors=("#C8C8C8",))
    assert palette(black) == ("#C8C8C8", "#7C7C7C", "#484848")
    assert palette(replace(black, colors=("#C8C8C8", "#FF0000"))) == ("#C8C8C8", "#FF0000", "#484848")
    assert palette(PRINTED) == PRINTED.colors


def test_every_letter_draws_something_of_its_own():
    drawn = {}
    for letter in SHAPES.keys() - {" "}:
        canvas = Image.new("RGBA", (80, 80), (0, 0, 0, 0))
        write(Pen(canvas, ("#FFFFFF",), place=lambda points: points, scale=1), letter, box=(0, 0, 80, 80))
        drawn[letter] = canvas.getchannel("A").tobytes()
        assert any(drawn[letter]), letter
    twins = {frozenset(pair) for pair in combinations(drawn, 2) if drawn[pair[0]] == drawn[pair[1]]}
    assert twins == {frozenset("O0")}


@pytest.mark.parametrize(
    "fault",
    [
        {"kind": "cape"},
        {"side": "left"},
        {"ground_on": "moon"},
        {"cloth": "lace"},
        {"ground": "navy"},
        {"colors": ()},
        {"colors": ("#12345",)},
        {"thread": "blue"},
        {"number": "7", "print_wide": 1},
        {"motif": "sun", "print_tall": 30},
        {"motif": "dragon"},
        {"words": ("Ferncliff",)},
        {"number": "7½"},
    ],
)
def test_a_look_that_cannot_be_drawn_cannot_be_built(fault):
    with pytest.raises(BadInput):
        ShirtLook(**fault)


def test_swatches_fill_their_picture_and_patterns_differ(tmp_path):
    images = [
        swatch(SwatchLook(ground="#C9CBCD", pattern=pattern, accent="#23508A"), seed=4)
        for pattern in PATTERNS
    ]
    assert {image.size for image in images} == {(900, 900)}
    assert all(packed(image, tmp_path) < LARGEST_FILE for image in images)
    assert not [pair for pair in combinations(images, 2) if same(*pair)]


def test_a_solid_swatch_keeps_the_color_of_its_cloth():
    middle = ImageStat.Stat(swatch(SwatchLook(ground="#6B1F2E"), seed=4)).mean
    assert all(abs(seen - meant) < 22 for seen, meant in zip(middle, (0x6B, 0x1F, 0x2E), strict=True))


def test_the_bag_shows_each_shirt_of_the_pile(tmp_path):
    colors = ("#1F2A4D", "#E2A71E", "#6B1F2E")
    image = bag_photo(colors, seed=3)
    assert image.size == (1500, 2000)
    assert packed(image, tmp_path) < LARGEST_FILE
    for gone in range(3):
        assert not same(image, bag_photo(colors[:gone] + colors[gone + 1 :], seed=3))


def test_the_wall_shows_the_blocks_in_their_order():
    blocks = [Image.new("RGB", (60, 60), color) for color in ("#C00000", "#00C000", "#0000C0", "#C0C000")]
    image = wall_photo(blocks, across=2, seed=1)
    wide, tall = image.size
    seen = [
        tuple(int(part > 90) for part in image.getpixel((int(wide * x), int(tall * y))))
        for y in (0.28, 0.72)
        for x in (0.34, 0.66)
    ]
    assert seen == [(1, 0, 0), (0, 1, 0), (0, 0, 1), (1, 1, 0)]


def test_a_picture_blurs_and_fills_a_fixed_number_of_times(monkeypatch):
    """The time of a picture is steps times pixels; whoever adds steps should see it here."""
    steps = {"soft": 0, "enlarged": 0, "silhouette": 0}

    def counted(name, do):
        def step(*given, **named):
            steps[name] += 1
            return do(*given, **named)

        return step

    for module in (light, layers, backdrops, sewing, table):
        for name in steps:
            if hasattr(module, name):
                monkeypatch.setattr(module, name, counted(name, getattr(module, name)))
    shirt_photo(replace(PRINTED, trim="#FFFFFF"), seed=7)
    assert 0 < steps["soft"] <= 8
    assert 0 < steps["enlarged"] <= 8
    assert 0 < steps["silhouette"] <= 4
