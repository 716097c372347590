"""The customer's page: true sentences, the one thing wanted, and nothing of anybody else."""

import io

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from PIL import Image

from config.kept_pages import shelf
from orders.account import giving_back, money, quoting
from orders.models import Block, Consent, Order, Photo, cut
from orders.yes import yes_to_picture

pytestmark = pytest.mark.django_db
NAME = "An aunt of Ferncliff"


def shown(client):
    answer = client.get("/for-you/")
    assert answer.status_code == 200
    return answer.content.decode()


def test_an_open_quote_is_the_one_thing_wanted(hers, quote, drawn):
    page = shown(hers(drawn))
    for words in ("The yes to the price", "$500.76", "$250.38", "Your quilt is drawn", "keeps the date"):
        assert words in page, words
    assert "The yes to the picture" not in page


def test_her_yes_to_the_price_counts_as_said_on_the_page(hers, quote, drawn):
    answer = hers(drawn).post("/for-you/price/", {"number": 1, "name": " an aunt OF ferncliff "})
    assert (answer.status_code, answer.url) == (302, "/for-you/")
    quote.refresh_from_db()
    assert (quote.accepted_by, quote.accepted_how) == (NAME, "page")
    assert money.owing_of(drawn).balance == 50076


def test_a_yes_sent_twice_is_one(hers, quote, drawn):
    client = hers(drawn)
    for _ in range(2):
        assert client.post("/for-you/price/", {"number": 1, "name": NAME}).status_code == 302
    assert drawn.entries.count() == 1


@pytest.mark.parametrize(("name", "words"), [("", "Type your name"), ("A passer-by", f"for {NAME} to give")])
def test_another_name_gives_no_yes(hers, quote, drawn, name, words):
    answer = hers(drawn).post("/for-you/price/", {"number": 1, "name": name})
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert not drawn.entries.exists()


def test_a_yes_to_a_quote_that_was_replaced_meanwhile_is_refused_in_words(hers, quote, drawn, shop, ada):
    quoting.add_line(drawn, words="Label", kind="labour", minor=1500, by=ada)
    quoting.issue(drawn, shop, by=ada)
    answer = hers(drawn).post("/for-you/price/", {"number": 1, "name": NAME})
    assert answer.status_code == 409
    assert "A newer quote has taken the place" in answer.content.decode()
    assert not drawn.entries.exists()


@pytest.fixture
def asked(agreed, shop, ada):
    """Return the order with its picture asked about."""
    return yes_to_picture.ask(agreed, shop, by=ada)


def test_the_picture_is_wanted_once_the_price_is_agreed(hers, asked, agreed):
    page = shown(hers(agreed))
    assert "The yes to the picture" in page
    assert "The yes to the price" not in page
    assert (page.count('class="lq"'), page.count('class="big-quilt"')) == (1, 1)


def test_the_count_and_the_way_are_told_as_they_are(hers, agreed, twelve_shirts, ada):
    pieces = [shirt.pieces.get() for shirt in twelve_shirts]
    Consent.objects.to_cut(agreed, pieces, said_by=NAME, how="phone", by=ada)
    cut(pieces[:5], by=ada)
    client = hers(agreed)
    page = shown(client)
    assert "Five of your twelve shirts are cut" in page
    assert "Twelve came in. Five are cut, seven are whole." in page
    cut(pieces, by=ada)
    Block.objects.filter(pk__in=[block.pk for block in agreed.blocks.order_by("pk")[:7]]).update(
        progress="fused"
    )
    page = shown(client)
    assert "Your twelve shirts are cut" in page
    assert "Seven are stabilized, the other five follow." in page


def test_a_missing_shirt_is_not_called_safe(hers, agreed, twelve_shirts, ada):
    twelve_shirts[0].miss(by=ada)
    page = shown(hers(agreed))
    assert "One cannot be found at this moment." in page
    assert "All that came in is in the workroom" not in page


def test_payments_and_what_is_open_are_told_and_what_was_taken_back_is_not(hers, agreed, ada):
    money.take_payment(agreed, minor=25038, payer=agreed.customer, method="card", key="a", by=None)
    wrong = money.take_payment(agreed, minor=777, payer=agreed.customer, method="cash", key="b", by=None)
    giving_back.take_back(wrong, by=ada)
    page = shown(hers(agreed))
    assert "− $250.38" in page
    assert "$7.77" not in page


def test_a_memorial_says_the_shirts_and_never_your(hers, agreed):
    Order.objects.update(memorial=True)
    page = shown(hers(agreed))
    assert "The twelve shirts are here" in page
    assert 'class="mine quiet"' in page


def test_what_has_left_is_told_quietly_and_wants_nothing(hers, agreed, ada):
    agreed.hand_over("the aunt", by=ada)
    page = shown(hers(agreed))
    assert "Your quilt has left the workroom" in page
    assert 'aria-current="step"' not in page  # whatever was not ticked off before it left
    assert "<form" not in page


def test_the_wage_the_notes_and_the_reach_of_others_stand_nowhere_on_it(hers, quote, drawn):
    page = shown(hers(drawn))
    for words in ("an hour", "your aim", "555 0131", "Only you see this"):
        assert words not in page, words


def test_another_orders_page_is_never_shown(hers, quote, drawn, aunt, ada):
    other = Order.objects.open(title="Another’s pillow", customer=aunt, by=ada)
    page = shown(hers(drawn))
    assert "Another’s pillow" not in page
    assert "500.76" not in shown(hers(other))


def test_a_photo_of_the_order_opens_with_its_cookie_alone(client, hers, drawn, aunt, ada):
    mine, theirs = (photo_of(each) for each in (drawn, Order.objects.open(title="x", customer=aunt, by=ada)))
    assert client.get(f"/for-you/photos/{mine.pk}/320.webp").status_code == 404
    client = hers(drawn)
    assert client.get(f"/for-you/photos/{mine.pk}/320.webp").status_code == 200
    assert client.get(f"/for-you/photos/{theirs.pk}/320.webp").status_code == 404
    assert client.get(f"/for-you/photos/{mine.pk}/999.webp").status_code == 404
    assert f"/for-you/photos/{mine.pk}/800.webp" in shown(client)


def photo_of(order):
    number = Photo.objects.count()
    photo = Photo.objects.create(
        sha256=f"{number:064d}", sent_sha256=f"{number:064d}", width=8, height=6, is_ready=True, order=order
    )
    file = photo.rendition(320)
    file.parent.mkdir(parents=True, exist_ok=True)
    picture = io.BytesIO()
    Image.new("RGB", (8, 6)).save(picture, "JPEG")
    file.write_bytes(picture.getvalue())
    return photo


def test_it_asks_the_database_six_times_at_most(client, hers, asked, agreed, ada):
    for number in range(4):
        money.take_payment(agreed, minor=100, payer=agreed.customer, method="card", key=f"{number}", by=None)
    hers(agreed)
    client.cookies.pop("session", None)
    shelf.clear()
    with CaptureQueriesContext(connection) as queries:
        assert client.get("/for-you/").status_code == 200
    told = [each["sql"] for each in queries.captured_queries if "FROM stamp" not in each["sql"]]
    assert len(told) + 1 <= 6, told  # and the stamp, where records have one
    assert any('FROM "orders_posting"' in each for each in told)  # drawn, and not from memory


def test_looking_changes_nothing(hers, asked, agreed):
    client = hers(agreed)
    with CaptureQueriesContext(connection) as queries:
        client.get("/for-you/")
    assert not [each["sql"] for each in queries if not each["sql"].startswith("SELECT")]


def test_a_repair_speaks_of_no_shirts(hers, order):
    Order.objects.update(kind="repair")
    page = shown(hers(order))
    assert "The repair is being looked at" in page
    assert "Where the shirts are" not in page
