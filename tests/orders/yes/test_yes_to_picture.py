"""The yes to the picture: asked with all that was shown, given by one name, asked again for what changed."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from orders.account.agreeing import NotTheirs
from orders.bench import work
from orders.models import AskedPicture, Consent, Event, LeaveToMove, Order, Photo, Piece, may_move
from orders.quilt import layouts, wall
from orders.quilt.compromises import compromises
from orders.quilt.drawn import room_of
from orders.yes import yes_to_picture
from orders.yes.asked_picture import asked_of
from orders.yes.picture_changes import changes, only_equal_blocks_moved
from orders.yes.picture_standing import to_picture
from orders.yes.yes_room import keeps_the_day
from orders.yes.yes_to_picture import NEWER, Said, TooLate
from planner.units import INCH, Sides, Size
from tests.orders.photo_files import lose, put_photo

pytestmark = pytest.mark.django_db
AUNT = "An aunt of Ferncliff"
BY_PHONE = Said(AUNT, "phone")


@pytest.fixture
def asked(agreed, shop, ada):
    return yes_to_picture.ask(agreed, shop, by=ada)


def move(order, make, words, by):
    """Make a move of the draft as the Quilt room would."""
    design, quilt = layouts.drawn(order)
    design.draw(make(quilt), words, by=by)


def trade(order, by, first=0, second=1):
    def make(quilt):
        cells = list(quilt.cells)
        a, b = cells[first], cells[second]
        cells[first], cells[second] = replace(a, at=b.at), replace(b, at=a.at)
        return replace(quilt, cells=tuple(cells))

    move(order, make, "traded", by)


def stands(order):
    fresh = Order.objects.get(pk=order.pk)
    return to_picture(fresh, fresh.design.quilt)


def test_asking_keeps_what_was_shown_whatever_comes_after(agreed, shop, ada, settings, tmp_path):
    from PIL import Image

    settings.DATA_DIR = tmp_path
    piece = Piece.objects.get(shirt__number=3)
    photo = put_photo(Image.new("RGB", (500, 500), "navy"), shirt=piece.shirt)
    Piece.objects.filter(pk=piece.pk).update(photo=photo)
    version = yes_to_picture.ask(agreed, shop, by=ada)
    Piece.objects.filter(pk=piece.pk).update(photo=None, ground="#000000")
    kept = asked_of(version)
    assert kept.has_photos
    assert f"/photos/{photo.pk}/panel/" in kept.drawn()
    assert AskedPicture.objects.count() == 1
    lose(photo)
    assert f"/photos/{photo.pk}/panel/" not in kept.drawn()
    assert not kept.has_photos


def test_the_same_picture_is_asked_about_once(agreed, asked, shop, ada):
    again = yes_to_picture.ask(agreed, shop, by=ada)
    assert again.pk == asked.pk
    assert Event.objects.filter(what="asked for the yes to the picture").count() == 1


def test_the_answer_has_the_room_that_the_plan_has(agreed, asked, shop):
    assert asked.answer_by is not None
    assert shop.today() < asked.answer_by <= agreed.promised_for
    words = keeps_the_day(agreed, asked.answer_by, shop.today())
    assert words.startswith("An answer by ")
    assert words.endswith(".")


def test_a_memorial_is_not_hurried(agreed, shop, ada):
    Order.objects.update(memorial=True)
    agreed.refresh_from_db()
    assert yes_to_picture.ask(agreed, shop, by=ada).answer_by is None


def test_an_answer_day_that_is_past_says_what_may_move(agreed, shop):
    yesterday = shop.today() - timedelta(days=1)
    assert "may move." in keeps_the_day(agreed, yesterday, shop.today())


def test_what_was_given_up_is_told_in_sentences(agreed, shop, ada):
    Piece.objects.filter(shirt__number=8).update(ground="#2a5038")

    def make(quilt):
        first, second, *rest = quilt.cells
        strips = replace(second, frame=Sides.all_round(INCH))
        return replace(quilt, cells=(replace(first, turn=180), strips, *rest))

    move(agreed, make, "turned", ada)
    order = Order.objects.get(pk=agreed.pk)
    told = asked_of(yes_to_picture.ask(order, shop, by=ada)).compromises
    first, second, *_ = order.design.quilt.cells
    assert f"{first.piece} lies upside down." in told
    assert f"{second.piece} sits in strips: its shirt gives less cloth than the block." in told
    assert "08F is nearly the color of the sashing." in told
    assert any(second.piece in words and "of a seam" in words for words in told)  # 11 in in a room of 12


def test_what_is_so_of_every_print_is_told_without_forty_names(agreed, shop):
    block = agreed.design.quilt.cells[0].at.size
    Piece.objects.update(print_width=block.width - INCH // 2, print_height=block.height - INCH // 2)
    told = compromises(room_of(Order.objects.get(pk=agreed.pk), shop))
    assert "Every print comes within 1/2 in of a seam." in told
    Piece.objects.filter(shirt__number=8).update(print_width=INCH, print_height=INCH)
    told = compromises(room_of(Order.objects.get(pk=agreed.pk), shop))
    assert not any("Every print" in words for words in told)
    assert any(words.startswith("The prints of 01F, ") for words in told)


def test_only_the_one_who_decides_says_yes(asked, agreed):
    with pytest.raises(NotTheirs, match=AUNT):
        yes_to_picture.say(agreed, asked.number, Said("A neighbor", "phone"), by=None)
    assert not Consent.objects.filter(kind="picture").exists()


def test_a_yes_to_a_replaced_picture_is_refused(asked, agreed, shop, ada):
    trade(agreed, ada)
    newer = yes_to_picture.ask(Order.objects.get(pk=agreed.pk), shop, by=ada)
    assert newer.number == asked.number + 1
    with pytest.raises(TooLate, match=NEWER[:20]):
        yes_to_picture.say(agreed, asked.number, BY_PHONE, by=ada)
    with pytest.raises(TooLate):
        yes_to_picture.wish(agreed, asked.number, "higher", BY_PHONE, by=ada)
    assert not Consent.objects.filter(kind__in=["picture", "wish"]).exists()


def test_a_trade_after_the_yes_asks_for_that_trade_alone(asked, agreed, ada):
    yes_to_picture.say(agreed, asked.number, BY_PHONE, by=ada)
    assert stands(agreed).is_said
    trade(agreed, ada)
    now = stands(agreed)
    assert not now.is_said
    first, second, *_ = asked.as_quilt().cells
    names = sorted((first.piece, second.piece))
    assert [each.words for each in now.changes] == [f"{names[0]} and {names[1]} traded places."]
    assert set(now.changes[0].blocks) == {first.id, second.id}


def test_with_leave_equal_blocks_trade_without_a_new_yes(asked, agreed, ada):
    yes_to_picture.say(agreed, asked.number, Said(AUNT, "phone", may_move=True), by=ada)
    trade(agreed, ada)
    now = stands(agreed)
    assert now.is_said
    assert len(now.moved) == 1
    move(agreed, lambda quilt: replace(quilt, cells=(replace(quilt.cells[0], turn=180), *quilt.cells[1:])),
         "turned", ada)  # fmt: skip
    assert not stands(agreed).is_said


def test_leave_to_move_is_asked_once(asked, agreed, ada):
    for may in (False, True):
        yes_to_picture.say(agreed, asked.number, Said(AUNT, "phone", may_move=may), by=ada)
    assert LeaveToMove.objects.get().may is False
    assert Event.objects.filter(what="asked to move blocks").count() == 1


def test_blocks_of_a_memorial_never_move_without_a_yes(asked, agreed, ada):
    Order.objects.update(memorial=True)
    agreed.refresh_from_db()
    yes_to_picture.say(agreed, asked.number, Said(AUNT, "phone", may_move=True), by=ada)
    assert not may_move(Order.objects.get())
    LeaveToMove.objects.update(may=True)  # said before it became one
    assert not may_move(Order.objects.get())
    trade(agreed, ada)
    assert not stands(agreed).is_said


def test_a_move_taken_back_is_agreed_again(asked, agreed, ada):
    yes_to_picture.say(agreed, asked.number, BY_PHONE, by=ada)
    trade(agreed, ada)
    assert not stands(agreed).is_said
    trade(agreed, ada)
    assert stands(agreed).is_said


def test_changes_are_told_of_size_strips_pieces_and_cloth(asked):
    before = asked.as_quilt()
    first, second, third, *rest = before.cells
    after = replace(
        before,
        cells=(
            replace(first, turn=180),
            replace(second, piece=None),
            replace(third, frame=Sides(INCH)),
            *rest,
        ),
        cloth={**before.cloth, "sashing": "Gold", "binding": ""},
    )
    words = [each.words for each in changes(before, after, unit="in")]
    assert words == [
        f"{second.piece} is left out.",
        f"{first.piece} is turned.",
        f"{third.piece} sits in strips now.",
        "Sashing: Gold instead of Forest.",
        "Binding: no cloth yet instead of Forest.",
    ]
    assert not only_equal_blocks_moved(before, after)
    assert changes(before, before, unit="in") == ()
    smaller = replace(
        before, sashing=replace(before.sashing, outer=False), size=Size(46 * INCH, 62 * INCH),
        cells=tuple(
            replace(cell, at=replace(cell.at, x=cell.at.x - 2 * INCH, y=cell.at.y - 2 * INCH))
            for cell in before.cells
        ),
    )  # fmt: skip
    assert changes(before, smaller, unit="in")[0].words == "The quilt is 46 × 62 in instead of 50 × 66 in."


def test_no_row_is_joined_without_the_yes_to_what_is_drawn(asked, agreed, ada):
    with pytest.raises(work.NotYet, match="has no yes to the picture"):
        work.refuse_without_yes(agreed, "join")
    yes = yes_to_picture.say(agreed, asked.number, BY_PHONE, by=ada)
    work.refuse_without_yes(Order.objects.get(), "join")
    trade(agreed, ada)
    with pytest.raises(work.NotYet, match=r"changed since the yes to its picture: 0.F and 0.F traded places"):
        work.refuse_without_yes(Order.objects.get(), "join")
    trade(agreed, ada)
    yes.withdraw(by=ada)
    with pytest.raises(work.NotYet, match="has no yes to the picture"):
        work.refuse_without_yes(Order.objects.get(), "join")


@pytest.fixture
def on_the_wall(asked, agreed, ada, settings, tmp_path):
    """Return the photo of the wall of an order whose picture was agreed."""
    from PIL import Image

    settings.DATA_DIR = tmp_path
    yes_to_picture.say(agreed, asked.number, BY_PHONE, by=ada)
    photo = put_photo(Image.new("RGB", (400, 500), "green"), order=agreed)
    for _ in range(2):
        wall.put_up(agreed, photo, by=ada)
    return photo


def test_rows_wait_until_the_wall_was_found_as_agreed(on_the_wall, agreed, ada):
    with pytest.raises(work.NotYet, match="photo of the wall"):
        work.refuse_without_yes(Order.objects.get(), "join")
    wall.compare(agreed, on_the_wall.pk, "not yet", why="04F is upside down", by=ada)
    with pytest.raises(work.NotYet, match="photo of the wall"):
        work.refuse_without_yes(Order.objects.get(), "join")
    for _ in range(2):
        wall.compare(agreed, on_the_wall.pk, "as agreed", by=ada)
    work.refuse_without_yes(Order.objects.get(), "join")
    assert Event.objects.filter(what="wall compared").count() == 2
    assert Event.objects.filter(what="blocks on the wall").count() == 1


def test_another_photo_of_the_wall_is_looked_at_anew(on_the_wall, agreed, ada):
    from PIL import Image

    wall.compare(agreed, on_the_wall.pk, "as agreed", by=ada)
    newer = put_photo(Image.new("RGB", (400, 500), "olive"), order=agreed)
    wall.put_up(agreed, newer, by=ada)
    with pytest.raises(work.NotYet):
        work.refuse_without_yes(Order.objects.get(), "join")
    with pytest.raises(wall.NothingToCompare, match="newer photo"):
        wall.compare(agreed, on_the_wall.pk, "as agreed", by=ada)
    Photo.objects.filter(pk=newer.pk).delete()
    work.refuse_without_yes(Order.objects.get(), "join")


def test_a_look_is_no_good_for_a_picture_that_was_agreed_later(on_the_wall, agreed, shop, ada):
    wall.compare(agreed, on_the_wall.pk, "as agreed", by=ada)
    trade(agreed, ada)
    newer = yes_to_picture.ask(Order.objects.get(), shop, by=ada)
    yes_to_picture.say(agreed, newer.number, BY_PHONE, by=ada)
    with pytest.raises(work.NotYet, match="photo of the wall"):
        work.refuse_without_yes(Order.objects.get(), "join")
