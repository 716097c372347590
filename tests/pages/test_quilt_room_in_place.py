"""The picture of the Quilt room by itself: tapped and changed in place; blocks that several prints share."""

from __future__ import annotations

import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from orders.models import Move
from planner.brief import as_json
from planner.quilt import Cell, Quilt
from planner.units import INCH, Rect, Size
from tests.cast import add_shirt
from tests.pages.quilt_room import QuiltRoom, add_back

pytestmark = pytest.mark.django_db
IN_PLACE = {"HX-Request": "true", "HX-Target": "picture"}


@pytest.fixture
def room(client, ada, order, shop, twelve_shirts):
    add_back(5)
    client.force_login(ada)
    room = QuiltRoom(client, order)
    room.draw(ada, shop)
    return room


def draw(room, quilt):
    """Let this quilt stand."""
    Move.objects.filter(design__order=room.order).update(quilt=as_json(quilt))


def test_strips_are_shown_before_they_are_kept_with_what_the_shirt_shows(room):
    query = "?block=05&act=strips&sides=left&sides=right&width=1"
    page = room.client.get(room.url + query, headers=IN_PLACE | {"HX-Target": "hung-quilt"}).content.decode()
    assert "<html" not in page
    assert "Not kept yet." in page
    assert "The shirt shows 12 × 14 in." in page.replace("\xa0", " ")
    assert "50 across, 66 down" in page
    assert room.seen == 1
    too_wide = room.client.get(room.url + query.replace("=1", "=3"), headers=IN_PLACE).content.decode()
    assert "There is room for 1½ in at most." in too_wide


def test_a_tap_in_place_sends_the_picture_alone_and_reckons_nothing(room, monkeypatch):
    monkeypatch.setattr(
        "orders.quilt.answers.plan_at_once", lambda *_, **__: pytest.fail("the plan was reckoned")
    )
    answer = room.client.get(f"{room.url}?block=05", headers=IN_PLACE)
    page = answer.content.decode()
    assert page.count("<section") == 1
    assert "05F, tee front" in page
    assert answer["HX-Push-Url"] == "false"
    assert "HX-Trigger-After-Swap" not in answer


def test_a_move_in_place_is_answered_with_the_picture_and_the_rest_is_asked_for(room):
    answer = room.client.post(f"{room.url}turn/", {"block": "03", "seen": 1}, headers=IN_PLACE)
    assert answer.url == f"{room.url}?drawn=anew#picture"
    shown = room.client.get(f"{room.url}?drawn=anew", headers=IN_PLACE)
    assert shown["HX-Trigger-After-Swap"] == "drawn-anew"
    assert 'data-seen="2"' in shown.content.decode()
    assert 'hx-trigger="drawn-anew from:body"' in room.text()


def test_a_move_in_place_that_cannot_be_made_says_why_beside_the_picture(room):
    answer = room.client.post(
        f"{room.url}trade/", {"block": "01", "other": "01", "seen": 1}, headers=IN_PLACE
    )
    assert answer.status_code == 422
    assert "cannot trade places with itself" in answer.content.decode()
    assert "<html" not in answer.content.decode()


def test_prints_that_share_a_block_are_named_and_each_has_a_label_of_its_own(room):
    half = 7 * INCH
    inside = tuple(
        Cell(f"01{letter}", Rect(n * half, 0, half, 2 * half), piece=f"0{n + 1}F")
        for n, letter in enumerate("ab")
    )
    cells = (
        Cell("01", Rect(0, 0, 2 * half, 2 * half), inside=inside),
        Cell("02", Rect(2 * half, 0, half, 2 * half)),
    )
    draw(room, Quilt(Size(3 * half, 2 * half), cells))
    words = room.label("?block=01")
    assert "01F and 02F in one block" in words
    assert "Each has a label of its own: 01F, tee front 02F, tee front" in words
    assert "Leave out" not in words
    part = room.label("?block=01b")
    assert "02F, tee front" in part
    assert "The whole block" in part
    assert "Trade places" not in part
    assert "Leave out" in part
    assert "Plain cloth" in room.label("?block=02")
    assert "Put a shirt here" in room.label("?block=02")
    page = room.text("?block=01b")
    assert re.search(r'aria-label="01F and 02F" aria-current="true"', page)


def test_a_block_as_large_as_four_is_called_the_feature_block(room):
    block = 14 * INCH
    places = [(0, 0, 2), (2, 0, 1), (2, 1, 1), (0, 2, 1), (1, 2, 1), (2, 2, 1)]
    cells = tuple(
        Cell(f"{n:02d}", Rect(x * block, y * block, k * block, k * block), piece=f"{n + 1:02d}F")
        for n, (x, y, k) in enumerate(places)
    )
    draw(room, Quilt(Size(3 * block, 3 * block), cells))
    assert "The feature block, 28 × 28 in" in room.label("?block=00")
    assert "feature" not in room.label("?block=01")


def test_blocks_are_reached_in_reading_order_whatever_was_moved(room):
    room.send("trade", block="01", other="12", seen=1)
    page = room.text("?block=05")
    names = re.findall(r'<a href="[^"]*" aria-label="(\w+)"', page)
    assert names == ["12F", *(f"{n:02d}F" for n in range(2, 12)), "01F"]


def test_forty_blocks_in_place_ask_the_database_no_more_often_than_twelve(room, ada, shop):
    few = queries_for(room)
    for number in range(13, 41):
        add_shirt(room.order.bags.get(), number)
    room.order.change(seen=room.version, width=14 * 5 * INCH + 2 * 6 * INCH, height=8 * 16 * INCH + 2 * INCH)
    room.draw(ada, shop)
    assert len(room.quilt.cells) == 40
    assert queries_for(room) == few


def queries_for(room):
    query = f"{room.url}?block=05&act=side"
    room.client.get(query, headers=IN_PLACE)
    with CaptureQueriesContext(connection) as asked:
        assert room.client.get(query, headers=IN_PLACE).status_code == 200
    return len(asked)
