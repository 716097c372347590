"""Her yes to the picture in the Quilt room: asked for, looked at, written down, wished otherwise."""

from __future__ import annotations

import io

import pytest
from django.utils import timezone
from PIL import Image

from orders import papers
from orders.background import errands
from orders.models import Consent, DesignVersion, LeaveToMove, Order, Paper
from tests.pages.quilt_room import QuiltRoom, words_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def room(client, ada, order, shop, twelve_shirts):
    client.force_login(ada)
    order.approver = "her sister"
    order.save(update_fields=["approver"])
    drawn = QuiltRoom(client, order)
    drawn.draw(ada, shop)
    return drawn


def say_yes(room, number=1, **change):
    return room.send(
        "yes-to-picture", **{"said_by": "her sister", "how": "phone", "number": number, **change}
    )


def test_asking_keeps_the_picture_and_her_yes_is_written_to_it(room):
    assert "Ask for her yes" in room.text()
    for _ in range(2):
        room.send("question")
    assert DesignVersion.objects.count() == 1
    assert "Write down her yes" in room.text()
    for _ in range(2):
        assert say_yes(room).url == f"{room.url}#yes"
    page = room.text()
    assert "The arrangement and the cloth are settled" in page
    assert "Ask for her yes" not in page
    assert Consent.objects.filter(kind="picture").count() == 1


def test_a_picture_that_changed_since_it_was_asked_about_asks_again(room):
    room.send("question")
    room.send("trade", block="01", other="02", seen=room.seen)
    assert "The picture changed since she was asked." in room.text()


def test_a_yes_to_a_replaced_picture_is_refused_and_what_was_typed_is_there(room):
    room.send("question")
    room.send("trade", block="01", other="02", seen=room.seen)
    room.send("question")
    answer = say_yes(room, number=1, may_move="yes")
    page = answer.content.decode()
    assert answer.status_code == 409
    assert "A newer picture has taken the place" in page
    assert 'name="number" value="2"' in page
    assert 'value="her sister"' in page
    assert not Consent.objects.filter(kind="picture").exists()
    assert not LeaveToMove.objects.exists()
    say_yes(room, number=2)
    assert Consent.objects.get(kind="picture").version.number == 2


def test_only_the_name_that_decides_is_written_down(room):
    room.send("question")
    answer = say_yes(room, said_by="a neighbor")
    assert answer.status_code == 422
    assert "This yes is for her sister to give." in answer.content.decode()
    assert not Consent.objects.filter(kind="picture").exists()


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"said_by": ""}, "Write down who said it."),
        ({"how": "page"}, "Select a valid choice."),
        ({"number": "x"}, "Enter a whole number."),
    ],
)
def test_a_yes_says_who_how_and_to_which_picture(room, change, words):
    room.send("question")
    answer = say_yes(room, **change)
    assert answer.status_code == 422
    assert words in answer.content.decode()


def test_a_change_after_the_yes_names_the_change_and_keeps_the_rest(room):
    room.send("question")
    say_yes(room)
    room.send("trade", block="01", other="02", seen=room.seen)
    words = words_of(room.text())
    assert "Changed since her yes of" in words
    assert "01F and 02F traded places. The rest stays agreed; ask only for this." in words
    assert "Only this changed since your yes: 01F and 02F traded places." in words
    assert "Ask for her yes" in words


def test_with_leave_equal_blocks_trade_and_the_yes_stands(room):
    room.send("question")
    say_yes(room, may_move="yes")
    room.send("trade", block="01", other="02", seen=room.seen)
    words = words_of(room.text())
    assert "The arrangement and the cloth are settled" in words
    assert "With her leave: 01F and 02F traded places." in words
    assert "Ask for her yes" not in words


def test_moving_blocks_is_asked_once_and_never_of_a_memorial(room):
    room.send("question")
    assert "May blocks move for balance?" in room.text()
    say_yes(room, may_move="no")
    room.send("turn", block="03", seen=room.seen)
    room.send("question")
    assert "May blocks move for balance?" not in room.text()
    LeaveToMove.objects.all().delete()
    Order.objects.update(memorial=True)
    words = words_of(room.text())
    assert "May blocks move for balance?" not in words
    assert "Memorial work: no block moves without a new yes." in words


def test_a_wish_of_hers_is_written_down_and_is_no_yes(room):
    room.send("question")
    said = {"number": 1, "words": "the compass higher up", "said_by": "her sister", "how": "message"}
    for _ in range(2):
        room.send("her-wish", **{f"wish-{name}": value for name, value in said.items()})
    assert Consent.objects.get(kind="wish").how == "message"
    words = words_of(room.text())
    assert "her sister wishes: the compass higher up" in words
    assert "Write down her yes" in words


def test_an_empty_wish_comes_back_with_what_was_typed(room):
    room.send("question")
    answer = room.send("her-wish", **{"wish-number": 1, "wish-said_by": "her sister", "wish-how": "phone"})
    assert answer.status_code == 422
    assert "Write down what should change." in answer.content.decode()
    assert not Consent.objects.exists()


def test_a_wish_to_a_replaced_picture_keeps_its_words(room):
    room.send("question")
    DesignVersion.objects.update(replaced_at=timezone.now())
    said = {"number": 1, "words": "the compass higher up", "said_by": "her sister", "how": "phone"}
    answer = room.send("her-wish", **{f"wish-{name}": value for name, value in said.items()})
    assert answer.status_code == 409
    assert "the compass higher up</textarea>" in answer.content.decode()


def test_the_picture_is_looked_at_as_she_sees_it_in_four_ways(room):
    page = words_of(room.text("asked/"))
    for words in ("As she would see it", "Left out, and why", "Nothing is left out.", "In gray"):
        assert words in page, words
    room.send("question")
    assert "Picture 1, as she sees it" in words_of(room.text("asked/"))
    assert 'class="wall gray"' in room.text("asked/?as=gray")
    bed = words_of(room.text("asked/?as=bed&bed=full")).replace("\xa0", " ")
    assert "On a full mattress of 54 × 75 in, below the pillows, it leaves 2 in free at each side" in bed
    assert "beside a door of 80 in" in words_of(room.text("asked/?as=wall")).replace("\xa0", " ")
    assert room.look("asked/?as=moon&bed=9").status_code == 200


def test_before_a_layout_there_is_no_picture_to_look_at(client, ada, order, shop):
    client.force_login(ada)
    room = QuiltRoom(client, order)
    assert room.look("asked/").url == f"{room.url}#layout"
    assert room.look("picture.jpg").status_code == 404


def test_looking_changes_nothing(room):
    for query in ("asked/", "asked/?as=bed", "picture.jpg"):
        room.look(query)
    assert not DesignVersion.objects.exists()


def test_the_helper_looks_and_writes_nothing(room, client, bo):
    room.send("question")
    client.force_login(bo)
    page = room.text("asked/")
    assert "Picture 1, as she sees it" in page
    assert "The paper to sign" not in page
    assert say_yes(room).status_code == 403
    assert room.send("her-wish").status_code == 403
    assert room.send("asked/paper").status_code == 403


def test_the_paper_is_of_the_picture_that_was_asked_about(room, settings, tmp_path):
    pypdf = pytest.importorskip("pypdf")
    settings.DATA_DIR = tmp_path
    assert room.send("asked/paper").url == f"{room.url}#yes"
    room.send("leaving-out", block="04", why="a stain", seen=room.seen)
    room.send("question")
    for _ in range(2):
        room.send("asked/paper")
    paper = Paper.objects.get(kind="picture")
    errands.run_due()
    pages = pypdf.PdfReader(io.BytesIO(papers.bytes_of(paper))).pages
    text = " ".join(" ".join(page.extract_text() for page in pages).split())
    for words in ("The quilt picture", "04F a stain", "her sister: yes, sew it like this", "They may."):
        assert words in text, words
    pictures = [Image.open(io.BytesIO(image.data)) for page in pages for image in page.images]
    # 84 mm at 170 dots to the inch are 562, and no small rendition of a screen is as large
    assert max(max(picture.size) for picture in pictures) > 550


def test_nothing_is_asked_before_there_is_a_picture(client, ada, order, shop):
    client.force_login(ada)
    QuiltRoom(client, order).send("question")
    assert not DesignVersion.objects.exists()
