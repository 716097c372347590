"""Ways chosen and blocks moved in the Quilt room."""

from __future__ import annotations

import re

import pytest

from orders.models import Move, Piece
from planner.units import INCH
from tests.pages.quilt_room import QuiltRoom, words_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def room(client, ada, order, shop, twelve_shirts):
    client.force_login(ada)
    return QuiltRoom(client, order)


@pytest.fixture
def drawn(room, ada, shop):
    room.draw(ada, shop)
    return room


def ways(room):
    return re.findall(r'name="way" value="(\w+)"', room.text())


def test_a_way_is_chosen_by_its_picture(room):
    answer = room.send("layout", way=ways(room)[1], seen=0)
    assert answer.url == f"{room.url}#picture"
    assert room.order.blocks.count() == 12
    assert 'aria-current="true"' in room.text().split('class="ways"')[1].split("</form>")[0]


def test_where_no_way_is_the_reason_comes_first_and_one_tap_takes_the_nearest_size(room):
    plain = {"tolerance": "0", "blocks": "12", "sashing": "", "version": room.order.version}
    room.send("wish", width="40", height="40", **plain)
    page = room.text()
    assert not ways(room)
    assert page.index("Look at these") < page.index("Another size, other blocks")
    hidden = re.search(r'quilt/wish/">((?:<input[^>]*>)+)<button class="button main"', page).group(1)
    assert "Make it 36 × 48" in words_of(page)
    fields = dict(re.findall(r'name="(\w+)" value="([^"]*)"', hidden))
    assert [fields[name] for name in ("width", "height", "tolerance", "blocks")] == ["36", "48", "0", "12"]
    assert room.send("wish", **fields).status_code == 302
    assert ways(room)


def test_choosing_it_twice_is_choosing_it_once(room):
    way = ways(room)[0]
    for _ in range(2):
        assert room.send("layout", way=way, seen=0).status_code == 302
    assert Move.objects.count() == 1


def test_a_way_that_is_no_longer_on_offer_changes_nothing_and_says_so(room):
    answer = room.client.post(f"{room.url}layout/", {"way": "0" * 24, "seen": 0}, follow=True)
    assert "That way is no longer on offer" in answer.content.decode()
    assert Move.objects.count() == 0


def test_two_blocks_trade_places_and_undo_names_it(drawn):
    assert "Trade with" in drawn.text("?block=01&act=trade")
    drawn.send("trade", block="01", other="12", seen=1)
    assert "Undo: 01F and 12F traded places" in drawn.text()
    drawn.send("undoing", seen=2)
    assert "Undo:" not in drawn.text()
    assert drawn.seen == 1


def test_a_block_turns_round(drawn):
    drawn.send("turn", block="03", seen=1)
    assert [cell.turn for cell in drawn.quilt.cells if cell.id == "03"] == [180]


def test_a_block_cannot_trade_places_with_itself_and_the_page_says_why(drawn):
    answer = drawn.send("trade", block="03", other="03", seen=1)
    assert answer.status_code == 422
    assert "A block cannot trade places with itself." in answer.content.decode()
    assert drawn.seen == 1


def test_a_block_is_left_out_with_its_reason_and_can_be_brought_back(drawn):
    drawn.send("leaving-out", block="04", why="a stain she does not want", seen=1)
    words = words_of(drawn.text())
    assert "04F a stain she does not want Bring back" in words
    piece = Piece.objects.get(shirt__number=4)
    assert drawn.send("bringing-back", piece=piece.pk, seen=2).url == f"{drawn.url}#picture"
    piece.refresh_from_db()
    assert (piece.wanted, piece.why_out) == ("must", "")
    assert "04F" in [cell.piece for cell in drawn.quilt.cells]
    assert "Undo: 04F brought back" in drawn.text()


def test_leaving_out_without_a_reason_asks_for_one_beside_the_field(drawn):
    answer = drawn.send("leaving-out", block="04", why=" ", seen=1)
    assert answer.status_code == 422
    assert "Give the reason in a few words" in answer.content.decode()
    assert Piece.objects.get(shirt__number=4).wanted == "must"


def test_a_piece_of_another_order_is_not_brought_back_here(drawn, aunt, ada, shop):
    from orders.models import Bag
    from tests.cast import add_shirt

    other = add_shirt(Bag.objects.create(customer=aunt, brought_by="she", received_by=ada), 1).pieces.get()
    assert drawn.send("bringing-back", piece=other.pk).status_code == 404
    assert drawn.send("bringing-back", piece="x").status_code == 404


def test_a_form_older_than_the_layout_is_refused_in_words_that_keep_what_was_typed(drawn):
    drawn.send("trade", block="01", other="12", seen=1)
    answer = drawn.send("leaving-out", block="04", why="too thin at the elbow", seen=1)
    page = answer.content.decode()
    assert answer.status_code == 409
    assert "Somebody else was here first" in page
    assert "too thin at the elbow" in page
    assert drawn.seen == 2


def wish(room, **change):
    usual = {
        "width": "50", "height": "66", "tolerance": "4", "blocks": "14", "sashing": "2",
        "cornerstones": "on", "outer": "on", "version": room.version,
    }  # fmt: skip
    return room.send("wish", **{**usual, **change})


def test_a_size_is_wished_in_the_shops_unit(room):
    assert wish(room, width="53", height="70 1/2", blocks="15, 14 × 16", without="on").status_code == 302
    order = type(room.order).objects.get(pk=room.order.pk)
    assert (order.width, order.height) == (53 * INCH, 70 * INCH + INCH // 2)
    assert order.wish["blocks"] == [[15 * INCH, 15 * INCH], [14 * INCH, 16 * INCH]]
    assert order.wish["sashings"] == [{"width": 2 * INCH, "outer": True, "cornerstones": True}, None]
    assert 'value="15, 14 × 16"' in room.text()


def test_a_bad_length_comes_back_with_the_fault_beside_it_and_all_that_was_typed(room):
    answer = wish(room, width="12.3", height="sixty", blocks="14 by 16")
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "“12.3” is finer than 1/64 in; write 12 19/64 in or 12 5/16 in." in page
    assert "“sixty” is not a length" in page
    assert 'value="12.3"' in page
    assert 'value="sixty"' in page
    assert 'value="14 by 16"' in page
    assert room.order.width == 50 * INCH


@pytest.mark.parametrize(
    ("field", "typed", "fault"),
    [
        ("width", "", "Give the width, finished."),
        ("width", "0", "This must be 1 in or more."),
        ("height", "400", "This is more than 160 in."),
        ("blocks", "0", "cannot be a block"),
        ("blocks", "1, 2, 3, 4, 5, 6, 7, 8, 9", "at most 8 sizes"),
        ("tolerance", "-1", "is not a length"),
        ("sashing", "30", "This is more than 20 in."),
    ],
)
def test_what_makes_no_sense_is_refused_beside_its_field(room, field, typed, fault):
    answer = wish(room, **{field: typed})
    assert answer.status_code == 422
    assert fault in answer.content.decode()


def test_a_wish_on_an_older_page_is_refused(room):
    version = room.version
    wish(room, width="53", height="70")
    answer = wish(room, width="60", height="70", version=version)
    assert answer.status_code == 409
    assert type(room.order).objects.get(pk=room.order.pk).width == 53 * INCH


def test_a_size_no_grid_comes_near_says_what_would_help(room):
    wish(room, width="20", height="20", tolerance="1", blocks="14")
    page = words_of(room.text())
    assert "Look at these" in page
    assert "Choose a layout" not in page
