"""Blocks pinned, unpinned and rearranged in the Quilt room, and why it sits like this."""

from __future__ import annotations

import pytest

from orders import planning
from orders.background import errands
from orders.models import Move, Piece
from orders.quilt import arranging, layouts
from planner.units import INCH
from tests.pages.quilt_room import QuiltRoom, words_of

pytestmark = pytest.mark.django_db
NOUNS = ("pinning", "unpinning", "rearranging", "rearranging/ending")


@pytest.fixture
def room(client, ada, order, shop, twelve_shirts):
    """Return the room with a layout drawn: six blue shirts, and six of gold below."""
    Piece.objects.filter(shirt__number__lte=6).update(ground="#2350b0")
    Piece.objects.filter(shirt__number__gt=6).update(ground="#e2a71e")
    client.force_login(ada)
    as_it_lies = planning.plan_order(order, shop).options[0]
    layouts.choose(order, as_it_lies.layout.quilt, "chosen", minutes=as_it_lies.minutes, seen=0, by=ada)
    return QuiltRoom(client, order)


@pytest.fixture
def large(monkeypatch):
    """Let twelve blocks count as many, and search them for a moment only."""
    monkeypatch.setattr(arranging, "FEW_BLOCKS", 4)
    monkeypatch.setattr(arranging, "LONG", 800)


def places(room):
    return {cell.id: cell.at for cell in room.quilt.cells}


def test_a_block_is_pinned_from_its_label_and_unpinned_again(room):
    assert "Pin" in words_of(room.text("?block=02"))
    assert room.send("pinning", block="02", seen=1).url == f"{room.url}#picture"
    page = room.text("?block=02")
    assert "02F is pinned." in words_of(page)
    assert "Unpin" in words_of(page)
    assert 'aria-label="02F, pinned"' in page
    assert "Undo: 02F pinned" in words_of(page)
    room.send("unpinning", block="02", seen=2)
    assert "pinned." not in words_of(room.text())


def test_the_blocks_are_rearranged_but_for_those_that_are_pinned(room):
    before = places(room)
    room.send("pinning", block="01", seen=1)
    answer = room.client.post(f"{room.url}rearranging/", {"mood": "lively", "seen": 2}, follow=True)
    assert "starts came to it." in words_of(answer.content.decode())
    after = places(room)
    assert after != before
    assert after["01"] == before["01"]
    page = words_of(room.text())
    assert "Undo: Rearranged, lively" in page
    assert "01F lies where you pinned it." in page
    room.send("undoing", seen=3)
    assert places(room) == before


def test_the_room_says_why_it_sits_like_this_before_and_after(room):
    before = words_of(room.text()).split("Why it sits like this")[1][:400]
    assert "pairs of like color lie side by side." in before
    room.send("rearranging", mood="calm", seen=1)
    after = words_of(room.text()).split("Why it sits like this")[1][:400]
    assert "No two blocks of like color lie side by side." in after


def test_wishes_are_heard_and_stand_in_the_form_the_next_time(room):
    wishes = {
        "favorites": ["12F", "11F"],
        "together": "1f 08F",
        "apart": "03F 04F, 05F 06F",
        "tuck_top": "14 1/2",
    }
    assert room.send("rearranging", mood="story", seen=1, **wishes).status_code == 302
    asked = arranging.Asked.of(Move.objects.get(number=2).asked)
    assert asked.together == (("01F", "08F"),)
    assert asked.apart == (("03F", "04F"), ("05F", "06F"))
    assert asked.tuck_top == 14 * INCH + INCH // 2
    page = room.text()
    assert 'value="03F 04F, 05F 06F"' in page
    assert 'value="14 1/2"' in page
    assert "01F and 08F lie side by side, as you wished." in words_of(page)


@pytest.mark.parametrize(
    ("typed", "fault"),
    [
        ({"mood": ""}, "Tap one of the three."),
        ({"mood": "random"}, "Tap one of the three."),
        ({"together": "01F 99F"}, "“99F” is not in the layout."),
        ({"together": "01F"}, "Write two names for each pair, such as 03F 07F."),
        ({"apart": "01F 01F"}, "Write two names for each pair"),
        ({"apart": ", ".join(["01F 02F"] * 21)}, "Give at most 20 pairs."),
        ({"favorites": ["77F"]}, "“77F” is no longer in the layout."),
        ({"tuck_top": "a hand"}, "a hand"),
        ({"tuck_bottom": "90"}, "This is more than 40 in."),
        ({"together": "01F 12F", "apart": "12F 01F"}, "01F and 12F are wanted both side by side and apart."),
    ],
)
def test_what_cannot_be_is_said_beside_the_form_and_nothing_is_moved(room, typed, fault):
    answer = room.send("rearranging", **({"mood": "calm", "seen": 1} | typed))
    page = answer.content.decode()
    assert answer.status_code == 422
    assert fault in words_of(page)
    assert room.seen == 1


def test_a_form_older_than_the_layout_is_refused(room):
    room.send("turn", block="03", seen=1)
    for noun, typed in (("rearranging", {"mood": "calm"}), ("pinning", {"block": "01"})):
        answer = room.send(noun, seen=1, **typed)
        assert answer.status_code == 409
        assert "Somebody else was here first" in answer.content.decode()
    assert room.seen == 2


def test_a_block_that_is_gone_cannot_be_pinned_and_the_page_says_so(room):
    answer = room.send("pinning", block="77", seen=1)
    assert answer.status_code == 422
    assert "This block is no longer in the layout." in answer.content.decode()


def test_a_large_quilt_tells_how_far_it_is_and_can_be_stopped(room, large):
    room.send("rearranging", mood="calm", seen=1)
    page = words_of(room.text())
    assert "The blocks are being rearranged." in page
    assert "Stop and take the best so far" in page
    assert "Rearrange the blocks" not in page
    progress = room.client.get(f"{room.url}rearranging/progress/", headers={"HX-Request": "true"})
    assert "The blocks are being rearranged." in progress.content.decode()
    answer = room.client.post(f"{room.url}rearranging/ending/", follow=True)
    assert "Stopped before anything better was found." in words_of(answer.content.decode())
    assert "Rearrange the blocks" in words_of(room.text())
    assert room.seen == 1


def test_when_the_search_has_ended_what_changed_is_asked_for_anew(room, large):
    room.send("rearranging", mood="calm", seen=1)
    errands.run_due()
    progress = room.client.get(f"{room.url}rearranging/progress/", headers={"HX-Request": "true"})
    assert 'hx-select-oob="#layout,#picture,#why,#rearrange"' in progress.content.decode()
    assert all(f'id="{part}"' in room.text() for part in ("layout", "picture", "why", "rearrange"))
    assert "Undo: Rearranged, calm" in words_of(room.text())
    assert room.client.get(f"{room.url}rearranging/progress/").url == f"{room.url}#rearrange"


def test_a_search_that_came_to_nothing_says_why(room, large):
    room.send("rearranging", mood="calm", seen=1)
    room.send("turn", block="03", seen=1)
    errands.run_due()
    page = words_of(room.text())
    assert "It was not rearranged. The layout was changed meanwhile. Rearrange it again." in page


def test_a_helper_sees_why_and_how_far_but_moves_nothing(room, bo, large):
    room.send("rearranging", mood="calm", seen=1)
    room.client.force_login(bo)
    page = words_of(room.text("?block=02"))
    assert "Why it sits like this" in page
    assert "The blocks are being rearranged." in page
    assert "Stop and take the best so far" not in page
    assert "Pin" not in page.split("Her yes")[0].split("02F, ")[-1][:200]
    for noun in NOUNS:
        assert room.send(noun, block="02", mood="calm", seen=1).status_code == 403
    assert room.seen == 1


@pytest.mark.parametrize("noun", NOUNS)
def test_looking_changes_nothing_and_nobody_from_outside_comes_in(room, noun):
    assert room.client.get(f"{room.url}{noun}/").status_code == 405
    room.client.logout()
    assert "/sign-in/" in room.send(noun, block="02", mood="calm", seen=1).url
    assert room.seen == 1


@pytest.mark.parametrize("noun", NOUNS)
def test_an_order_that_is_not_here_is_not_found(room, noun):
    assert (
        room.client.post(f"/quilts/99/quilt/{noun}/", {"block": "02", "mood": "calm", "seen": 1}).status_code
        == 404
    )


def test_before_there_is_a_layout_there_is_nothing_to_rearrange(client, ada, order, shop, twelve_shirts):
    client.force_login(ada)
    bare = QuiltRoom(client, order)
    assert "Rearrange" not in words_of(bare.text())
    answer = bare.send("rearranging", mood="calm", seen=0)
    assert answer.status_code == 422
