"""The Quilt room before odd bags: nothing in them, a hundred and twenty shirts, a print too large."""

from __future__ import annotations

import re

import pytest

from orders.models import Piece
from planner.units import INCH
from tests.cast import add_shirt
from tests.pages.quilt_room import QuiltRoom, words_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def room(client, ada, order, shop):
    client.force_login(ada)
    return QuiltRoom(client, order)


def seen_words(room):
    return words_of(room.text()).replace("\xa0", " ")


def test_with_no_shirt_the_room_says_what_comes_first(room):
    assert "No shirt is logged yet." in seen_words(room)


def test_with_every_piece_left_out_it_says_why_there_is_no_way_and_how_to_get_one(room, twelve_shirts):
    Piece.objects.update(wanted="out", why_out="she changed her mind")
    page = room.look()
    words = words_of(page.content.decode())
    assert page.status_code == 200
    assert 'name="way"' not in page.content.decode()
    assert "Look at these" in words


def test_a_hundred_and_twenty_pieces_have_a_picture_in_which_each_can_be_picked(room, ada, shop):
    for number in range(1, 121):
        add_shirt(room.order.bags.get(), number)
    room.order.change(seen=room.version, width=12 * 14 * INCH, height=10 * 14 * INCH)
    room.draw(ada, shop)
    block = next(cell.id for cell in room.quilt.cells if cell.piece == "77F")
    page = room.text(f"?block={block}")
    picture = page[page.index('class="big-quilt"') : page.index('id="label"')]
    assert len(re.findall(r'<a href="\?block=', picture)) == len(room.quilt.cells) >= 120
    assert "77F, tee front" in page


def test_a_print_larger_than_the_quilt_is_named_and_does_not_trade_into_a_block(
    room, ada, shop, twelve_shirts
):
    room.draw(ada, shop)
    Piece.objects.filter(shirt__number=3).update(print_width=60 * INCH, print_height=70 * INCH)
    words = seen_words(room)
    assert re.search(r"03F would lose part of its print", words)
    answer = room.send("strips", block="03", sides=["top"], width="1", seen=room.seen)
    assert answer.status_code == 422
    assert "The print of 03F fills its block" in answer.content.decode()


def test_a_print_larger_than_the_quilt_is_not_offered_for_a_block(room, ada, shop, twelve_shirts):
    room.draw(ada, shop)
    large = add_shirt(room.order.bags.get(), 13).pieces.get()
    Piece.objects.filter(pk=large.pk).update(print_width=60 * INCH, print_height=70 * INCH, wanted="may")
    label = room.label("?block=03&act=side")
    assert "13F, tee front Does not fit here." in label
    assert (
        f'value="{large.pk}"' not in room.text("?block=03&act=side").split('id="label"')[1].split("</ul>")[0]
    )
    answer = room.send("panel", block="03", piece=large.pk, seen=room.seen)
    assert answer.status_code == 422
    assert "13F does not fit there." in answer.content.decode()
