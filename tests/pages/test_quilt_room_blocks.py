"""A block's own label in the Quilt room: strips, another side, a border, taken back and done again."""

from __future__ import annotations

import pytest

from orders.models import Consent, Design, Event, Move, Order, Piece, cut
from planner.units import INCH, Size
from tests.cast import add_shirt
from tests.pages.quilt_room import QuiltRoom, add_back, words_of

pytestmark = pytest.mark.django_db
IN_PLACE = {"HX-Request": "true", "HX-Target": "picture"}


@pytest.fixture
def room(client, ada, order, shop, twelve_shirts):
    add_back(5)
    client.force_login(ada)
    room = QuiltRoom(client, order)
    room.draw(ada, shop)
    return room


def cell(room, id):
    return next(each for each in room.quilt.cells if each.id == id)


def test_the_label_offers_all_that_can_be_done_with_a_block(room):
    words = room.label("?block=05")
    for act in ("Trade places", "Turn round", "Pin", "Add strips", "Other side", "Leave out"):
        assert act in words
    assert "Close the label" in room.text("?block=05")


def test_strips_are_put_round_a_shirt_and_its_label_tells_them(room):
    answer = room.send("strips", block="05", sides=["top", "bottom"], width="1", seen=1)
    assert answer.url == f"{room.url}#picture"
    assert (cell(room, "05").frame.top, cell(room, "05").frame.left) == (INCH, 0)
    assert "Undo: Strips of 1 in round 05F" in room.text()
    assert "Strips top 1 in, bottom 1 in, the shirt 14 × 12 in" in room.label("?block=05")
    assert "Take them off" in room.label("?block=05&act=strips")
    room.send("strips", block="05", given="none", seen=2)
    assert not cell(room, "05").frame


def test_strips_that_its_cloth_needs_are_offered_as_they_are(room):
    Piece.objects.filter(shirt__number=5, side="front").update(free_left=INCH, free_right=INCH)
    assert "As its cloth needs: right ¾ in, left ¾ in" in room.label("?block=05&act=strips")
    room.send("strips", block="05", given="needed", seen=1)
    assert cell(room, "05").frame.left == 3 * INCH // 4


@pytest.mark.parametrize(
    ("typed", "fault"),
    [
        ({"sides": ["top"], "width": ""}, "Give a width, such as 1."),
        ({"sides": ["top"], "width": "1/4"}, "This must be 1/2 in or more."),
        ({"sides": ["top"], "width": "wide"}, "wide"),
        ({"sides": [], "width": "1"}, "Tap at least one side."),
        ({"sides": ["inside"], "width": "1"}, "inside"),
        ({"sides": ["top", "bottom"], "width": "2"}, "There is room for 1 in at most."),
        ({"given": "all"}, "Give a width"),
    ],
)
def test_strips_that_cannot_be_come_back_with_what_is_wrong(room, typed, fault):
    answer = room.send("strips", block="05", seen=1, **typed)
    assert answer.status_code == 422
    assert fault in answer.content.decode()
    assert 'id="label"' in answer.content.decode()
    assert room.seen == 1


def test_the_other_side_of_a_shirt_is_offered_first_and_shown(room):
    back = Piece.objects.get(side="back")
    assert "05B, tee back Print 11 × 12 in. Fits." in room.label("?block=05&act=side")
    assert room.send("panel", block="05", piece=back.pk, seen=1).url == f"{room.url}#picture"
    words = words_of(room.text())
    assert "Undo: 05B shown instead of 05F" in words
    assert "05F 05B is shown instead. Bring back" in words
    assert "must be in the quilt" not in words


def test_another_orders_piece_and_none_at_all_are_not_shown(room, ada, aunt):
    from orders.models import Bag

    other = add_shirt(Bag.objects.create(customer=aunt, brought_by="she", received_by=ada), 1).pieces.get()
    assert room.send("panel", block="05", piece=other.pk, seen=1).status_code == 404
    answer = room.send("panel", block="05", piece="", seen=1)
    assert answer.status_code == 422
    assert "Tap the one that is shown here." in answer.content.decode()
    gone = room.send("panel", block="77", piece=Piece.objects.get(side="back").pk, seen=1)
    assert gone.status_code == 422
    assert "no longer in the layout" in gone.content.decode()


def test_where_every_side_has_its_block_the_label_says_where_to_log_another(room):
    Piece.objects.filter(side="back").delete()
    assert "Log another side on the shirt’s page" in room.label("?block=05&act=side")


def test_a_border_is_kept_and_its_size_is_shown_while_it_is_typed(room):
    shown = room.client.get(f"{room.url}?across=3&down=4", headers=IN_PLACE).content.decode()
    assert "56 across, 74 down" in shown
    assert room.quilt.size.width == 50 * INCH
    room.send("border", across="3", down="4", seen=1)
    assert room.quilt.size == Size(56 * INCH, 74 * INCH)
    assert "Undo: A border of 3 in at both sides, 4 in at top and bottom" in room.text()


@pytest.mark.parametrize(
    ("across", "down", "fault"), [("1/4", "", "Make it 1/2 in or wider"), ("", "x", "x"), ("30", "", "24 in")]
)
def test_a_border_that_cannot_be_sewn_comes_back_with_what_is_wrong(room, across, down, fault):
    answer = room.send("border", across=across, down=down, seen=1)
    assert answer.status_code == 422
    assert fault in answer.content.decode()
    assert room.seen == 1


def test_what_was_taken_back_can_be_done_again_and_both_name_the_move(room):
    room.send("turn", block="03", seen=1)
    room.send("undoing", seen=2)
    words = words_of(room.text())
    assert "Do it again: 03F turned round" in words
    assert "Undo:" not in words
    assert room.send("redoing", move=2, seen=1).url == f"{room.url}#picture"
    assert "Undo: 03F turned round" in room.text()
    assert "Do it again" not in room.text()


def test_doing_again_what_is_not_there_changes_nothing(room):
    for move in ("7", "x", ""):
        assert room.send("redoing", move=move, seen=1).status_code == 302
    assert room.seen == 1


def test_a_cut_block_says_so_and_offers_only_what_leaves_it_whole(room, ada):
    piece = Piece.objects.get(shirt__number=5, side="front")
    Consent.objects.to_cut(room.order, [piece], said_by="the aunt", how="person", by=ada)
    cut([piece], by=ada)
    words = room.label("?block=05")
    assert "Cut: its shirt and its size stay" in words
    assert "Trade places" in words
    for act in ("Add strips", "Other side", "Leave out"):
        assert act not in words
    answer = room.send("strips", block="05", sides=["top"], width="1", seen=room.seen)
    assert "05F is cut already" in answer.content.decode()


def test_an_older_page_is_refused_whole(room):
    room.send("turn", block="03", seen=1)
    for noun, typed in (
        ("strips", {"block": "05", "sides": ["top"], "width": "1"}),
        ("panel", {"block": "05", "piece": Piece.objects.get(side="back").pk}),
        ("border", {"across": "3"}),
        ("redoing", {"move": 9}),
    ):
        assert room.send(noun, seen=1, **typed).status_code == 409
    assert room.seen == 2


def test_looking_and_trying_changes_nothing(room):
    before = Move.objects.count(), Event.objects.count(), room.version
    for query in (
        "?block=05&act=strips",
        "?block=05&act=side",
        "?block=05&act=strips&sides=top&width=1",
        "?across=3",
    ):
        assert room.look(query).status_code == 200
    assert (Move.objects.count(), Event.objects.count(), room.version) == before


def test_a_helper_reads_the_label_and_is_offered_nothing(room, client, bo):
    client.force_login(bo)
    words = room.label("?block=05")
    assert "05F, tee front" in words
    assert "Trade places" not in words
    page = room.text("?block=05&act=strips")
    assert 'id="dropped"' not in page
    assert 'id="border"' not in page


def test_signed_out_and_unknown_orders_are_sent_away(room, client):
    assert client.post("/quilts/77/quilt/border/", {"seen": 0}).status_code == 404
    client.logout()
    assert client.post(f"{room.url}strips/", {}).url.startswith("/sign-in/")
    assert Design.objects.get(order=room.order).at == 1


def test_asking_for_a_move_with_get_is_refused(room):
    for noun in ("strips", "panel", "border", "redoing"):
        assert room.client.get(f"{room.url}{noun}/").status_code == 405
    assert Order.objects.get(pk=room.order.pk).design.at == 1
