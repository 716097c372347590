"""The Quilt room as it is looked at."""

from __future__ import annotations

import re
from io import BytesIO

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from PIL import Image

from orders.models import Event, Move, Piece
from tests.cast import add_shirt
from tests.orders.photo_files import put_photo
from tests.pages.quilt_room import QuiltRoom, words_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def room(client, ada, order, shelf, twelve_shirts):
    client.force_login(ada)
    return QuiltRoom(client, order)


def test_before_a_layout_the_ways_stand_there_with_size_price_hours_and_what_they_give_up(room):
    words = words_of(room.text())
    assert "3 across, 4 down" in words
    assert "50 × 66 in" in words.replace("\xa0", " ")
    assert "$468" in words
    assert re.search(r"\d+ h( \d\d)? of work", words.replace("\xa0", " "))
    assert "Every print whole, every seam straight." in words
    assert "Choose a layout" in words


def test_a_quilt_without_shirts_says_what_comes_first(client, ada, order):
    client.force_login(ada)
    assert "No shirt is logged yet." in QuiltRoom(client, order).text()


def test_the_picture_names_every_block_and_says_that_photos_are_missing(room, ada, shop):
    room.draw(ada, shop)
    page = room.text()
    picture = page[page.index('class="big-quilt"') :]
    assert re.findall(r'<text class="tagt"[^>]*>(\w+)<', picture) == [f"{n:02d}F" for n in range(1, 13)]
    assert "12 shirts without a photo yet are drawn from their colors." in page


def test_a_photo_is_shown_through_the_window_of_its_panel(room, ada, shop, settings, tmp_path):
    settings.DATA_DIR = tmp_path
    photo = put_photo(Image.new("RGB", (1000, 800), "navy"))
    box = {"x": 25, "y": 10, "width": 50, "height": 50}
    Piece.objects.filter(shirt__number=4).update(photo=photo, box=box)
    room.draw(ada, shop)
    page = room.text()
    panel = f"/photos/{photo.pk}/panel/2500_1000_7500_1000_7500_6000_2500_6000/320.jpg"
    assert f'<image href="{panel}"' in page
    answer = room.client.get(panel)
    assert (answer.status_code, answer["Content-Type"]) == (200, "image/jpeg")
    assert Image.open(BytesIO(answer.content)).size == (320, 256)


def test_a_tapped_block_hangs_out_its_label(room, ada, shop):
    room.draw(ada, shop)
    words = words_of(room.text("?block=05")).replace("\xa0", " ")
    assert "05F, tee front Print 11 × 12 in Block 14 × 14 in" in words
    assert "Trade places" in words
    assert "Turn round" in words
    assert "Leave out" in words


def test_a_block_that_is_not_there_any_more_is_no_fault(room, ada, shop):
    room.draw(ada, shop)
    assert room.look("?block=99&act=trade&other=01&role=none").status_code == 200


def test_a_shirt_as_dark_as_the_sashing_gets_lost_in_it(room, ada, shop):
    room.order.change(seen=room.version, cloth={"sashing": "Forest"})
    Piece.objects.filter(shirt__number=8).update(ground="#2a5038")
    room.draw(ada, shop)
    words = words_of(room.text())
    assert "08F gets lost in the sashing." in words
    assert "07F gets lost" not in words


def test_what_it_takes_is_told_in_yards_and_what_is_missing_is_to_be_bought(room, ada, shop):
    cloth = {"sashing": "Gold", "cornerstone": "Gold", "binding": "Gold", "backing": "Wide black"}
    room.order.change(seen=room.version, cloth=cloth)
    room.draw(ada, shop)
    words = words_of(room.text()).replace("\xa0", " ")
    assert "Wide black backing Enough takes 1⅝ yd, in one piece; 5 yd here" in words
    assert re.search(r"Gold sashing, cornerstones, binding Buy [\d⅛¼⅜½⅝¾⅞]+ yd takes", words)


def test_looking_changes_nothing(room, ada, shop):
    room.draw(ada, shop)
    before = Move.objects.count(), Event.objects.count(), room.version
    for query in ("", "?block=05", "?block=05&act=trade&other=06", "?block=05&act=leave", "?role=backing"):
        assert room.look(query).status_code == 200
    assert (Move.objects.count(), Event.objects.count(), room.version) == before


def test_the_helper_sees_pictures_and_layout_but_no_money_and_no_buttons(room, client, bo, ada, shop):
    room.order.change(seen=room.version, cloth={"sashing": "Gold", "binding": "Gold"})
    room.draw(ada, shop)
    client.force_login(bo)
    page = room.text("?block=05")
    assert 'class="big-quilt"' in page
    assert "$" not in page
    assert "an hour" not in page
    assert room.order.customer.phone not in page
    main = page[page.index('<main id="main"') : page.index("</main>")]
    assert not re.search(r'action="/quilts/', main)


def test_nobody_looks_without_signing_in(client, order):
    answer = client.get(f"/quilts/{order.number}/quilt/")
    assert answer.url == f"/sign-in/?next=/quilts/{order.number}/quilt/"


def test_an_order_that_was_never_opened_is_not_here(client, ada, shop):
    client.force_login(ada)
    assert client.get("/quilts/77/quilt/").status_code == 404


def test_forty_shirts_ask_the_database_no_more_often_than_twelve(room, ada, shop):
    room.draw(ada, shop)
    few = queries_for(room)
    for number in range(13, 41):
        add_shirt(room.order.bags.get(), number)
    room.order.change(seen=room.version, width=14 * 5 * 8128 + 2 * 6 * 8128, height=8 * 16 * 8128 + 2 * 8128)
    room.draw(ada, shop)
    assert len(room.quilt.cells) == 40
    assert queries_for(room) == few


def queries_for(room):
    room.look()
    with CaptureQueriesContext(connection) as asked:
        assert room.look().status_code == 200
    return len(asked)


def test_the_picture_is_sent_as_a_file_to_go_with_the_words(room, ada, shop):
    assert room.client.get(room.url + "picture.jpg").status_code == 404
    room.draw(ada, shop)
    file = room.client.get(room.url + "picture.jpg")
    assert file["Content-Type"] == "image/jpeg"
    assert file["Content-Disposition"] == f'attachment; filename="quilt-{room.order.number}.jpg"'
    picture = Image.open(BytesIO(file.content)).convert("RGB")
    assert max(picture.size) == 1600
    first = picture.getpixel((24 + 1552 * 12 // 66, 24 + 1552 * 12 // 66))
    assert all(abs(a - b) < 12 for a, b in zip(first, (0x23, 0x50, 0xB0), strict=True))
