"""The picture on the customer's page: her yes, her wish, what changed, and nothing of anybody else."""

import io

import pytest
from PIL import Image

from orders.models import Consent, Customer, LeaveToMove, Order, Payer, Piece
from orders.quilt import layouts
from orders.yes import yes_to_picture
from tests.orders.photo_files import put_photo

pytestmark = pytest.mark.django_db
NAME = "An aunt of Ferncliff"


@pytest.fixture
def asked(agreed, shop, ada):
    """Return the version of the order's picture that was asked about."""
    return yes_to_picture.ask(agreed, shop, by=ada)


def shown(client):
    answer = client.get("/for-you/")
    assert answer.status_code == 200
    return answer.content.decode()


def test_her_yes_to_the_picture_is_kept_with_the_version_she_saw(hers, asked, agreed):
    client = hers(agreed)
    said = {"number": asked.number, "name": NAME, "may_move": "yes"}
    for _ in range(2):
        assert client.post("/for-you/picture/", said).status_code == 302
    consent = Consent.objects.get(kind="picture")
    assert LeaveToMove.objects.get().may
    assert (consent.version, consent.said_by, consent.how, consent.written_by) == (asked, NAME, "page", None)
    assert "The yes to the picture" not in shown(client)


def test_only_the_approver_says_yes_to_the_picture(hers, asked, agreed):
    Payer.objects.create(order=agreed, customer=Customer.objects.create(name="An uncle"), share=1)
    said = {"number": asked.number, "name": "An uncle", "may_move": "no"}
    answer = hers(agreed).post("/for-you/picture/", said)
    assert answer.status_code == 422
    assert f"for {NAME} to give" in answer.content.decode()
    assert not Consent.objects.filter(kind="picture").exists()


def test_a_yes_without_a_tick_or_an_answer_comes_back(hers, asked, agreed):
    page = hers(agreed).post("/for-you/picture/", {"number": asked.number}).content.decode()
    assert f"Tick that it is you. Only {NAME} gives this yes." in page
    assert "Tap one, so that it need not be asked again." in page
    assert not Consent.objects.filter(kind="picture").exists()


def ask_about_a_trade(order, shop, ada):
    design, quilt = layouts.drawn(order)
    layouts.trade(order, quilt.cells[0].id, quilt.cells[1].id, seen=design.at, by=ada)
    return yes_to_picture.ask(Order.objects.get(pk=order.pk), shop, by=ada)


def test_a_yes_to_a_replaced_picture_is_refused_with_the_new_one_and_nothing_lost(
    hers, asked, agreed, shop, ada
):
    client = hers(agreed)
    newer = ask_about_a_trade(agreed, shop, ada)
    said = {"number": asked.number, "name": NAME, "may_move": "no"}
    answer = client.post("/for-you/picture/", said)
    page = answer.content.decode()
    assert answer.status_code == 409
    assert "A newer picture has taken the place" in page
    assert f'name="number" value="{newer.number}"' in page
    assert page.count(" checked") == 2
    assert not Consent.objects.filter(kind="picture").exists()
    wished = {"wish-number": asked.number, "wish-words": "The tree higher", "wish-name": NAME}
    assert "The tree higher</textarea>" in client.post("/for-you/wish/", wished).content.decode()


def test_after_her_yes_only_what_changed_is_asked(hers, asked, agreed, shop, ada):
    client = hers(agreed)
    client.post("/for-you/picture/", {"number": asked.number, "name": NAME, "may_move": "no"})
    first, second, *_ = (cell.piece for cell in asked.as_quilt().cells)
    ask_about_a_trade(agreed, shop, ada)
    page = shown(client)
    assert "Only this changed since your yes" in page
    assert f"{min(first, second)} and {max(first, second)} traded places." in page
    assert page.count('class="chalkline"') == 2
    assert "May blocks move for balance?" not in page


def test_moving_blocks_is_never_asked_of_a_memorial(hers, asked, agreed):
    Order.objects.update(memorial=True)
    client = hers(agreed)
    assert "May blocks move" not in shown(client)
    assert client.post("/for-you/picture/", {"number": asked.number, "name": NAME}).status_code == 302
    assert not LeaveToMove.objects.exists()


def test_what_is_left_out_and_what_was_given_up_stand_beside_the_picture(hers, agreed, shop, ada):
    design, quilt = layouts.drawn(agreed)
    layouts.leave_out(agreed, quilt.cells[0].id, why="a stain", seen=design.at, by=ada)
    layouts.turn(agreed, quilt.cells[1].id, seen=layouts.move_number(agreed), by=ada)
    yes_to_picture.ask(Order.objects.get(pk=agreed.pk), shop, by=ada)
    page = shown(hers(agreed))
    assert f'<b>{quilt.cells[0].piece}</b> <span class="soft">a stain</span>' in page
    assert f"{quilt.cells[1].piece} lies upside down." in page
    assert "An answer by " in page


def test_it_is_looked_at_in_gray_on_a_bed_and_on_a_wall(hers, asked, agreed):
    client = hers(agreed)
    assert 'class="wall gray"' in client.get("/for-you/?as=gray").content.decode()
    assert "On a queen mattress" in client.get("/for-you/?as=bed&bed=queen").content.decode()
    assert "beside a door" in client.get("/for-you/?as=wall").content.decode()


def test_her_picture_is_one_photo_of_all_of_it_that_her_cookie_alone_opens(
    client, hers, agreed, shop, ada, settings, tmp_path
):
    settings.DATA_DIR = tmp_path
    Piece.objects.filter(shirt__number=2).update(photo=put_photo(Image.new("RGB", (90, 90), "navy")))
    asked = yes_to_picture.ask(agreed, shop, by=ada)
    place = f"/for-you/picture/{asked.number}.webp"
    assert client.get(place).status_code == 404
    client = hers(agreed)
    assert f'<image href="{place}"' in shown(client)
    answer = client.get(place)
    assert (answer.status_code, answer.headers["Cache-Control"]) == (200, "no-store")
    drawn, quilt = Image.open(io.BytesIO(answer.content)), asked.as_quilt()
    assert drawn.width == pytest.approx(1040, abs=1)
    assert drawn.height == pytest.approx(1040 * quilt.size.height / quilt.size.width, abs=2)
    cell = next(each for each in quilt.cells if each.piece == "02F")
    middle = (cell.at.x + cell.at.width // 2, cell.at.y + cell.at.height // 2)
    seen = drawn.convert("RGB").getpixel(tuple(at * 1040 // quilt.size.width for at in middle))
    assert seen == pytest.approx((0, 0, 128), abs=6)
    assert client.get(f"/for-you/picture/{asked.number + 1}.webp").status_code == 404


def test_a_picture_that_was_replaced_is_sent_no_more(hers, agreed, shop, ada, settings, tmp_path):
    settings.DATA_DIR = tmp_path
    Piece.objects.filter(shirt__number=2).update(photo=put_photo(Image.new("RGB", (90, 90), "navy")))
    asked = yes_to_picture.ask(agreed, shop, by=ada)
    newer, client = ask_about_a_trade(agreed, shop, ada), hers(agreed)
    assert client.get(f"/for-you/picture/{asked.number}.webp").status_code == 404
    assert client.get(f"/for-you/picture/{newer.number}.webp").status_code == 200


def test_a_picture_without_a_photo_is_drawn_and_fetches_none(hers, asked, agreed):
    client = hers(agreed)
    assert "<image" not in shown(client)
    assert client.get(f"/for-you/picture/{asked.number}.webp").status_code == 404


def test_a_wish_is_kept_and_is_no_yes(hers, asked, agreed):
    client = hers(agreed)
    said = {"wish-number": asked.number, "wish-words": "The tree nearer the top", "wish-name": NAME}
    for _ in range(2):
        assert client.post("/for-you/wish/", said).status_code == 302
    assert Consent.objects.get(kind="wish").words == "The tree nearer the top"
    page = shown(client)
    assert "You wrote: “The tree nearer the top”" in page
    assert "The yes to the picture" in page


def test_an_empty_wish_comes_back(hers, asked, agreed):
    answer = hers(agreed).post("/for-you/wish/", {"wish-number": asked.number, "wish-name": NAME})
    assert answer.status_code == 422
    assert "Write what should change." in answer.content.decode()
