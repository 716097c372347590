"""Corners and blocks in a real browser: held by finger and by key, and large enough to hold."""

from __future__ import annotations

import pytest

from orders.models import Piece
from planner.units import INCH
from tests.pages.demo_tour import a_photo, sign_in
from tests.pages.looking import faults_of

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.slow]


@pytest.fixture
def signed_in(page, live_server, client, settings, tmp_path, order, twelve_shirts, ada):
    settings.DATA_DIR = tmp_path
    photo = a_photo(of=twelve_shirts[2])
    box = {"x": 30, "y": 30, "width": 40, "height": 33}
    Piece.objects.filter(shirt=twelve_shirts[2]).update(photo=photo, box=box, sizes_are_usual=True)
    sign_in(page, live_server, client, ada)
    return f"{live_server.url}/quilts/{order.number}/shirts/3/panels/front/"


def drag(page, handle, right, down):
    handle.scroll_into_view_if_needed()
    box = handle.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + right, y + down, steps=4)
    page.mouse.up()


def value(page, name):
    return float(page.locator(f"[name={name}]").input_value())


@pytest.mark.parametrize("width", [390, 820, 1280])
def test_measuring_can_be_read_reached_and_held(page, signed_in, width):
    page.set_viewport_size({"width": width, "height": 900})
    for name in ("measuring/", "crop/"):
        page.goto(signed_in + name)
        assert list(faults_of(page, width)) == []
        page.emulate_media(color_scheme="light")
        for handle in page.locator(".handle:visible").all():
            box = handle.bounding_box()
            assert min(box["width"], box["height"]) >= 44


def test_a_corner_is_dragged_and_moved_by_keys_and_the_numbers_follow(page, signed_in):
    page.goto(signed_in + "measuring/")
    corner = page.get_by_role("button", name="The print, top left corner")
    before = value(page, "kept_tl_x")
    wide = page.locator("[data-stage]").bounding_box()["width"]
    drag(page, corner, 40, 0)
    assert value(page, "kept_tl_x") == pytest.approx(before + 40 / wide * 100, abs=0.4)
    dragged = value(page, "kept_tl_x"), value(page, "kept_tl_y")
    corner.focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Shift+ArrowDown")
    assert value(page, "kept_tl_x") == pytest.approx(dragged[0] + 0.05, abs=0.011)
    assert value(page, "kept_tl_y") == pytest.approx(dragged[1] + 0.5, abs=0.011)
    drawn = page.locator('[data-draws="kept"]').get_attribute("points").split()[0]
    assert [float(each) for each in drawn.split(",")] == [value(page, "kept_tl_x"), value(page, "kept_tl_y")]


def test_what_was_dragged_is_what_is_measured(page, signed_in):
    page.goto(signed_in + "measuring/")
    page.get_by_role("radio", name="Mat grid").check()
    stage = page.locator("[data-stage]").bounding_box()
    # The photo is 300 by 400: a square of 246 pixels in per cent of either.
    for name, x, y in (
        ("top left", 8, 20),
        ("top right", 90, 20),
        ("bottom right", 90, 81.5),
        ("bottom left", 8, 81.5),
    ):
        corner = page.get_by_role("button", name=f"The thing of known size, {name} corner")
        quad = {"top left": "tl", "top right": "tr", "bottom right": "br", "bottom left": "bl"}[name]
        right, down = x - value(page, f"known_{quad}_x"), y - value(page, f"known_{quad}_y")
        drag(page, corner, right * stage["width"] / 100, down * stage["height"] / 100)
    with page.expect_navigation():
        page.get_by_role("button", name="Measure and keep").click()
    piece = Piece.objects.get(shirt__number=3)
    assert not piece.sizes_are_usual, page.locator(".faults").all_inner_texts()
    assert piece.taps["reference"] == "mat"
    # The print's box is 40 by 33 % of the photo, in the shape of 11 by 12: 120 pixels of 246 for 12 in.
    assert abs(piece.print_width / INCH - 120 * 12 / 246) < 0.3


def test_the_block_is_moved_by_an_eighth_a_key_and_dragged(page, signed_in):
    page.goto(signed_in + "crop/")
    block = page.get_by_role("button", name="The block", exact=True)
    block.focus()
    for key in ("ArrowRight", "ArrowRight", "ArrowUp"):
        page.keyboard.press(key)
    assert page.locator("#id_shift_x").input_value() == "1/4"
    assert page.locator("#id_shift_y").input_value() == "-1/8"
    drag(page, block, -60, 0)
    assert page.locator("#id_shift_x").input_value().startswith("-")
    with page.expect_navigation():
        page.get_by_role("button", name="Keep it so").click()
    piece = Piece.objects.get(shirt__number=3)
    assert piece.shift_x < 0
    assert piece.shift_y < 0
