"""The quilt picture shows what will be cut, in real cloth, on a page and as a file."""

from __future__ import annotations

import io
import re
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image, ImageDraw

from orders.models import Cloth, Order, Piece
from orders.quilt import drawn as drawing
from orders.quilt import picture_in_words, quilt_picture, quilt_print
from orders.quilt.panel_photos import FURTHEST, jpeg_of, panel_of, quad_in
from orders.quilt.quilt_picture import View
from planner.units import INCH
from tests.orders.photo_files import lose, put_photo

pytestmark = pytest.mark.django_db
PER_INCH = 20  # of the photos below
RED, GREEN, BLUE, WHITE = (200, 30, 30), (30, 150, 60), (40, 60, 190), (245, 245, 245)


@pytest.fixture(autouse=True)
def _kept_apart(settings, tmp_path):
    settings.DATA_DIR = tmp_path


@pytest.fixture
def measured(drawn):
    """Return the piece 04F with a photo in which each inch is twenty pixels.

    The print of 11 by 12 in has its corner at (300, 250), so a block of 14 in round its middle runs from
    (270, 230) to (550, 510): painted blue, with an inch of red just inside its left edge, on a green table.
    """
    photo = Image.new("RGB", (1000, 1000), GREEN)
    pen = ImageDraw.Draw(photo)
    pen.rectangle((270, 230, 549, 509), fill=BLUE)
    pen.rectangle((270, 230, 289, 509), fill=RED)
    taps = {"reference": "grid", "kept": [[3000, 2500], [5200, 2500], [5200, 4900], [3000, 4900]]}
    piece = Piece.objects.get(shirt__number=4)
    shown = put_photo(photo, shirt=piece.shirt)
    Piece.objects.filter(pk=piece.pk).update(photo=shown, taps=taps)
    return Piece.objects.select_related("photo", "shirt", "order").get(pk=piece.pk)


def cell_of(quilt, name):
    return next(cell for cell in quilt.cells if cell.piece == name)


def block_in(quilt, cell, view):
    """Return the pixels of one block of the picture, without its seam line and without its name."""
    sheet = np.asarray(quilt_print.picture_of(quilt, view).convert("RGB")).astype(int)
    per_tick = (quilt_print.LONGER_SIDE - 2 * quilt_print.EDGE) / max(quilt.size.width, quilt.size.height)
    left, top, right, bottom = (
        quilt_print.EDGE + round(at * per_tick)
        for at in (cell.at.x, cell.at.y, cell.at.right, cell.at.bottom)
    )
    block = sheet[top + 2 : bottom - 2, left + 2 : right - 2].astype(float)
    block[: block.shape[0] // 5, : block.shape[1] // 2] = np.nan
    return block


def share(pixels, color):
    seen = pixels[~np.isnan(pixels).any(axis=-1)] if pixels.dtype == float else pixels
    return float(np.mean(np.abs(seen - np.array(color)).max(axis=-1) < 45))


def test_a_name_lies_on_the_sashing_and_hides_nothing_of_a_print_but_its_edge(drawn):
    quilt = drawn.design.quilt
    slip = f'y="([\\d.-]+)" width="[\\d.]+" height="([\\d.]+)" rx="[\\d.]+" fill="{quilt_picture.LIGHT}"'
    slips = re.findall(slip, quilt_picture.draw(quilt, View()))
    assert quilt.sashing
    assert len(slips) == len(quilt.cells)
    strip = quilt.sashing.width / quilt_picture.UNIT
    tops = sorted({cell.at.y / quilt_picture.UNIT for cell in quilt.cells if cell.at.y})
    for y, high in ((float(y), float(high)) for y, high in slips):
        block = min(tops, key=lambda top: abs(top - y))
        assert y + high - block <= max(0, high - strip) + 0.02


def test_a_block_shows_exactly_what_is_cut_and_nothing_beside_it(drawn, measured):
    quilt = drawn.design.quilt
    block = block_in(quilt, cell_of(quilt, "04F"), View(panels={"04F": measured}))
    below_name = block[block.shape[0] // 5 :]
    assert share(below_name, RED) == pytest.approx(1 / 14, abs=0.012)
    assert share(below_name, BLUE) == pytest.approx(13 / 14, abs=0.02)
    inch = block.shape[1] // 14
    assert share(block[:, : inch - 4], RED) > 0.97
    assert share(block, GREEN) < 0.005


def test_a_block_that_is_turned_shows_its_panel_turned(drawn, measured):
    quilt = drawn.design.quilt
    cell = cell_of(quilt, "04F")
    for turn, red in ((180, (slice(None), slice(-20, -4))), (90, (slice(4, 20), slice(None)))):
        turned = replace(cell, turn=turn)
        whole = replace(quilt, cells=tuple(turned if each is cell else each for each in quilt.cells))
        block = block_in(whole, turned, View(panels={"04F": measured}))
        assert share(block[red], RED) > 0.95, turn


def test_a_panel_seen_at_an_angle_is_laid_flat(tmp_path):
    flat = np.zeros((700, 700, 3), np.uint8)
    flat[:, :350], flat[:, 350:] = BLUE, WHITE
    import cv2

    corners = np.float32([[150, 100], [620, 180], [660, 640], [90, 560]])
    way = cv2.getPerspectiveTransform(np.float32([[0, 0], [700, 0], [700, 700], [0, 700]]), corners)
    seen = cv2.warpPerspective(flat, way, (800, 800), borderValue=GREEN)
    photo = put_photo(Image.fromarray(seen))
    quad = tuple(round(float(number) * 10_000 / 800) for number in corners.ravel())
    pixels = np.asarray(Image.open(io.BytesIO(jpeg_of(photo.sha256, quad, 320)))).astype(int)
    middle = pixels.shape[1] // 2
    assert share(pixels[:, : middle - 6], BLUE) > 0.97
    assert share(pixels[:, middle + 6 :], WHITE) > 0.97


def test_the_page_and_the_file_keep_the_same_window(drawn, measured):
    quilt = drawn.design.quilt
    panel = panel_of(measured, cell_of(quilt, "04F"))
    assert panel.sides == (19 * INCH, 21 * INCH)  # print and free cloth: 4 + 11 + 4 by 3 + 12 + 6
    assert panel.window == (5 * INCH // 2, 2 * INCH, 14 * INCH, 14 * INCH)
    page = quilt_picture.draw(quilt, View(panels={"04F": measured}))
    left, top, wide, high = (1000 * side / (21 * INCH) for side in panel.window)
    assert f'viewBox="{left:.2f} {top:.2f} {wide:.2f} {high:.2f}"' in page
    assert f"/photos/{measured.photo_id}/panel/{panel.corners}/320.jpg" in page


def test_a_box_that_was_marked_on_the_photo_is_the_window(drawn):
    piece = Piece.objects.get(shirt__number=5)
    photo = put_photo(Image.new("RGB", (1000, 800), BLUE), shirt=piece.shirt)
    piece.photo, piece.box = photo, {"x": 25, "y": 10, "width": 50, "height": 50}
    panel = panel_of(piece, cell_of(drawn.design.quilt, "05F"))
    assert panel.quad == (2500, 1000, 7500, 1000, 7500, 6000, 2500, 6000)
    assert (panel.sides, panel.window) == ((500, 400), (0, 0, 500, 400))


def test_cloth_lies_in_its_true_size_on_the_page_and_in_the_file(drawn):
    """Stripes of an inch on a photo that shows eight inches are an inch wide in the picture."""
    stripes = np.zeros((800, 800, 3), np.uint8)
    for inch in range(8):
        stripes[:, inch * 100 : inch * 100 + 100] = BLUE if inch % 2 else WHITE
    cloth = Cloth.objects.get(name="Forest")
    cloth.swatch = put_photo(Image.fromarray(stripes), cloth=cloth)
    cloth.shows = 8 * INCH
    cloth.save()
    view = drawing.view_of(drawing.room_of(Order.objects.get(), shop_of()))
    quilt = drawn.design.quilt
    page = quilt_picture.draw(quilt, view)
    width = re.search(r'<pattern id="laid-sashing" width="([\d.]+)"', page)
    assert width is not None
    assert float(width[1]) == pytest.approx(2 * 6.4 * 4)  # a tenth is left off each side; a unit is 1/4 in
    sheet = np.asarray(quilt_print.picture_of(quilt, view)).astype(int)
    row = np.abs(sheet[quilt_print.EDGE + 20] - np.array(BLUE)).max(axis=-1) < 60
    runs = np.diff(np.flatnonzero(np.diff(row.astype(int))))
    per_inch = (quilt_print.LONGER_SIDE - 2 * quilt_print.EDGE) / 66
    assert np.median(runs) == pytest.approx(per_inch, abs=2)


def shop_of():
    from orders.models import Shop

    return Shop.objects.the()


def test_a_photo_missing_from_the_disk_is_drawn_from_its_color_and_said(drawn, measured):
    lose(measured.photo)
    quilt = drawn.design.quilt
    view = View(panels={"04F": measured})
    page = quilt_picture.draw(quilt, view)
    assert "/panel/" not in page
    assert measured.ground in page
    assert "04F whose photo is missing from the disk, drawn from the color." in drawing.drawn_from_colors(
        quilt, view
    )
    block = block_in(quilt, cell_of(quilt, "04F"), view)
    ground = tuple(int(measured.ground[at : at + 2], 16) for at in (1, 3, 5))
    assert share(block, ground) > 0.9


def test_what_has_no_photo_yet_is_told_apart_from_what_was_lost(drawn):
    quilt = drawn.design.quilt
    assert "12 shirts without a photo yet are drawn from their colors." in drawing.drawn_from_colors(
        quilt, View()
    )


def test_the_file_is_under_a_megabyte_however_busy_the_shirts_are(drawn):
    noise = np.random.default_rng(7).integers(0, 255, (900, 900, 3), dtype=np.uint8)
    for piece in Piece.objects.select_related("shirt"):
        photo = put_photo(Image.fromarray(np.roll(noise, piece.shirt.number, axis=0)), shirt=piece.shirt)
        Piece.objects.filter(pk=piece.pk).update(photo=photo)
    view = drawing.view_of(drawing.room_of(Order.objects.get(), shop_of()))
    jpeg = quilt_print.jpeg_of(drawn.design.quilt, view)
    assert 300_000 < len(jpeg) < 1_000_000
    assert max(Image.open(io.BytesIO(jpeg)).size) <= 1600


def test_the_picture_is_told_row_by_row_with_turns_and_strips(drawn):
    quilt = drawn.design.quilt
    first, *rest = quilt.cells
    words = picture_in_words.sentence(replace(quilt, cells=(replace(first, turn=180), *rest)))
    assert words.startswith(f"The quilt picture, 12 blocks. From the top: {first.piece} upside down, ")
    assert words.count(";") == 3


@pytest.mark.parametrize(
    "corners",
    ["", "1_2_3", "a_0_1_0_1_1_0_1", f"0_0_{FURTHEST + 10_001}_0_9_9_0_9", "0_0_99999999_0_9_9_0_9"],
)
def test_corners_that_are_none_show_nothing(corners):
    assert quad_in(corners) is None
