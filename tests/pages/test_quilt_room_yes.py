"""Her yes, asked for, written down and taken back in the Quilt room."""

from __future__ import annotations

import pytest

from orders.models import ApprovedPiece, Consent, Piece
from planner.units import INCH
from tests.pages.quilt_room import QuiltRoom, words_of

pytestmark = pytest.mark.django_db
NAMES = [f"{number:02d}F" for number in range(1, 13)]


@pytest.fixture
def room(client, ada, order, shop, twelve_shirts):
    client.force_login(ada)
    order.approver = "her sister"
    order.save(update_fields=["approver"])
    drawn = QuiltRoom(client, order)
    drawn.draw(ada, shop)
    return drawn


def say_yes_to_cut(room, pieces=NAMES, **change):
    return room.send("yes-to-cut", **{"pieces": pieces, "said_by": "her sister", "how": "person", **change})


def test_a_yes_to_cut_is_written_for_the_ticked_pieces(room):
    assert say_yes_to_cut(room, NAMES[:9]).url == f"{room.url}#yes"
    assert ApprovedPiece.objects.count() == 9
    words = words_of(room.text())
    assert "Yes to 9 of 12" in words
    assert "her sister" in words


def test_a_yes_sent_twice_is_one_yes(room):
    for _ in range(2):
        say_yes_to_cut(room)
    assert (Consent.objects.count(), ApprovedPiece.objects.count()) == (1, 12)


def test_a_yes_says_who_how_and_for_what(room):
    answer = room.send("yes-to-cut", said_by="", how="")
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Tick the pieces the yes is for." in page
    assert "Write down who said it." in page
    assert "Tap how it was said." in page
    assert not Consent.objects.exists()


def test_a_yes_to_a_piece_of_another_order_is_refused(room):
    assert say_yes_to_cut(room, ["99F"]).status_code == 422


def test_a_yes_is_taken_back_and_asked_for_again(room):
    say_yes_to_cut(room)
    room.send("withdrawal", consent=Consent.objects.get().pk)
    assert "Yes to 0 of 12" in words_of(room.text())
    assert not ApprovedPiece.objects.filter(withdrawn_at=None).exists()


def test_a_yes_of_another_order_is_not_taken_back_here(room, aunt, ada):
    from orders.models import Order

    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    yes = Consent.objects.to_cut(other, [], said_by="she", how="phone", by=ada)
    assert room.send("withdrawal", consent=yes.pk).status_code == 404
    assert room.send("withdrawal", consent="x").status_code == 404


def test_a_block_of_another_size_asks_for_the_yes_again(room):
    say_yes_to_cut(room)
    larger = {"width": "53", "height": "70", "tolerance": "4", "blocks": "15", "sashing": "2", "outer": "on"}
    room.send("wish", **larger, cornerstones="on", version=room.version)
    way = room.text().split('name="way" value="')[-1].split('"')[0]
    room.send("layout", way=way, seen=room.seen)
    assert {cell.at.width for cell in room.quilt.cells} == {15 * INCH}
    words = words_of(room.text())
    assert "Yes to 0 of 12" in words
    assert "changed since the yes." in words


def test_the_words_to_send_name_size_shirts_and_what_is_left_out(room):
    room.send("leaving-out", block="04", why="a stain", seen=room.seen)
    words = words_of(room.text()).replace("\xa0", " ")
    assert "11 shirts, 50 across, 66 down, before the first wash. Left out: 04F." in words


def test_the_helper_writes_no_yes(room, client, bo):
    client.force_login(bo)
    assert say_yes_to_cut(room).status_code == 403
    assert Piece.objects.filter(approvals__isnull=False).count() == 0
