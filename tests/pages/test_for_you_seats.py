"""Each link shows what is its holder's to see: parts of the money, a surprise, a label, a memorial."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.core.cache import cache
from django.db import connection
from django.test.utils import CaptureQueriesContext

from orders.account import money
from orders.models import Bag, Customer, Event, Link, Order, Payer, Photo, Shop
from orders.yes import yes_to_picture
from tests.cast import add_shirt
from tests.pages.test_for_you_page import photo_of

pytestmark = pytest.mark.django_db
NAME = "An aunt of Ferncliff"


@pytest.fixture
def opens(client, shop, ada):
    """Open the page of an order as the one a link was given to."""
    cache.clear()

    def opened(order, to=""):
        _, token = Link.objects.give_out(order, until=shop.today() + timedelta(days=30), by=ada, to=to)
        client.cookies.clear()
        client.get(f"/for-you/{token}/")
        return client

    return opened


def shown(client):
    answer = client.get("/for-you/")
    assert answer.status_code == 200
    return answer.content.decode()


@pytest.fixture
def uncle(agreed):
    """Return an uncle who pays half."""
    made = Customer.objects.create(name="An uncle of Ferncliff", phone="555 0199")
    Payer.objects.create(order=agreed, customer=made, share=1)
    return made


def test_each_payer_reads_her_own_part_and_nothing_that_another_paid(opens, agreed, uncle, aunt):
    money.take_payment(agreed, minor=10001, payer=aunt, method="card", key="a", by=None)
    money.take_payment(agreed, minor=777, payer=uncle, method="card", key="u", by=None)
    hers, his = shown(opens(agreed, NAME)), shown(opens(agreed, uncle.name))
    for words in ("Your part", "$250.38", "$500.76", "− $100.01", "$150.37"):
        assert words in hers, words
    assert "$7.77" not in hers
    assert "− $7.77" in his
    assert "$242.61" in his
    for words in ("$100.01", "555", NAME + "’s"):
        assert words not in his, words


def test_who_paid_beyond_her_part_reads_so_and_is_not_asked_to_pay(opens, agreed, uncle, aunt):
    Shop.objects.update(how_to_pay="By transfer.")
    money.take_payment(agreed, minor=26000, payer=aunt, method="card", key="a", by=None)
    hers = shown(opens(agreed, NAME))
    assert "Paid beyond your part" in hers
    assert "$9.62" in hers  # 260.00 for a half of 500.76
    for words in ("Still open", "At collection", "−$9.62", "How to pay"):
        assert words not in hers, words
    assert "By transfer." in shown(opens(agreed, uncle.name))


def test_parts_add_up_to_the_whole_to_the_cent(opens, agreed, uncle):
    Payer.objects.create(order=agreed, customer=Customer.objects.create(name="A third"), share=1)
    owing = money.owing_of(agreed)
    parts = [each.share for each in money.shares_of(agreed, owing)]
    assert sum(parts) == 50076
    for each, part in zip((NAME, uncle.name, "A third"), parts, strict=True):
        assert f"${part / 100:.2f}" in shown(opens(agreed, each))


def test_how_to_pay_stands_beside_what_is_open_and_not_once_it_is_paid(opens, agreed, aunt):
    Shop.objects.update(how_to_pay="By transfer, or at the door.")
    page = shown(opens(agreed, NAME))
    assert "By transfer, or at the door." in page
    assert f"Write No. {agreed.number} with it." in page
    money.take_payment(agreed, minor=50076, payer=aunt, method="card", key="all", by=None)
    assert "By transfer" not in shown(opens(agreed, NAME))


def test_whoever_decides_is_asked_and_sees_no_money(opens, agreed, shop, ada):
    yes_to_picture.ask(agreed, shop, by=ada)
    Order.objects.update(approver="The mother")
    page = shown(opens(agreed, "The mother"))
    assert "Yes, sew it like this" in page
    assert "Balance" not in page
    assert "$" not in page
    page = shown(opens(agreed, NAME))
    assert "only after the yes of The mother" in page
    assert "Yes, sew it like this" not in page
    assert "Balance" in page


def test_whoever_collects_it_is_told_the_day_alone(opens, agreed):
    Order.objects.update(collector="A neighbor", recipient="The graduate")
    page = shown(opens(agreed, "A neighbor"))
    assert "To be collected" in page
    for words in ("$", "shirts", "The graduate", 'class="lq"', "<form"):
        assert words not in page, words


def test_a_surprise_is_closed_to_whoever_gets_it_with_the_same_bytes_as_a_guess(client, opens, agreed, shop):
    Order.objects.update(recipient="The graduate", secret_until=shop.today() + timedelta(days=5))
    client = opens(agreed, "The graduate")
    guess, kept = client.get("/for-you/guess/"), client.get("/for-you/")
    assert (kept.status_code, kept.content) == (404, guess.content)
    assert "for-you" not in client.cookies or not client.cookies["for-you"].value
    Order.objects.update(secret_until=shop.today())
    assert "twelve shirts" in shown(opens(agreed, "The graduate"))


def test_a_surprise_set_after_the_link_was_opened_closes_it(opens, agreed, shop):
    Order.objects.update(recipient="The graduate")
    client = opens(agreed, "The graduate")
    assert client.get("/for-you/").status_code == 200
    Order.objects.update(secret_until=shop.today() + timedelta(days=5))
    assert client.get("/for-you/").status_code == 404


def test_no_link_is_given_out_to_whom_it_is_still_a_secret(client, agreed, shop, ada, settings):
    settings.ADDRESS = "https://quilts.example"
    Order.objects.update(recipient="The graduate", secret_until=shop.today() + timedelta(days=5))
    client.force_login(ada)
    place = f"/quilts/{agreed.number}/account/links/"
    assert client.post(place, {"to": "The graduate"}).status_code == 409
    assert client.post(place, {"to": "A stranger"}).status_code == 422
    assert not Link.objects.exists()
    assert client.post(place, {"to": NAME}).status_code == 302
    assert Link.objects.get().to == NAME


def test_she_gives_the_words_for_the_label_and_they_can_be_changed(opens, agreed):
    client = opens(agreed, NAME)
    assert "The words for the label" in shown(client)
    for _ in range(2):
        assert client.post("/for-you/label/", {"words": " For  Ina \n\n2027 "}).status_code == 302
    agreed.refresh_from_db()
    assert (agreed.label_words, agreed.label_by) == ("For Ina\n2027", NAME)
    assert Event.objects.filter(what="label words").count() == 1
    assert "For Ina<br>2027" in shown(client)


@pytest.mark.parametrize(
    ("words", "said"), [("a\nb\nc\nd", "Up to three lines"), ("", "Write the words"), ("x" * 201, "200")]
)
def test_words_that_do_not_fit_on_a_label_come_back(opens, agreed, words, said):
    answer = opens(agreed, NAME).post("/for-you/label/", {"words": words})
    assert answer.status_code == 422
    assert said in answer.content.decode()
    agreed.refresh_from_db()
    assert agreed.label_words == ""


def test_who_neither_pays_nor_decides_writes_no_label(opens, agreed):
    Order.objects.update(collector="A neighbor")
    assert opens(agreed, "A neighbor").post("/for-you/label/", {"words": "x"}).status_code == 409


def test_a_memorial_shows_no_photo_of_the_work_unless_it_was_asked_for(opens, agreed, settings, tmp_path):
    settings.DATA_DIR = tmp_path
    Order.objects.update(memorial=True)
    photo = photo_of(agreed)
    client = opens(agreed, NAME)
    place = f"/for-you/photos/{photo.pk}/320.webp"
    assert "/for-you/photos/" not in shown(client)
    assert client.get(place).status_code == 404
    Order.objects.update(pictures_welcome=True)
    assert "/for-you/photos/" in shown(client)
    assert client.get(place).status_code == 200


def test_two_households_on_one_bag_see_nothing_of_each_other(opens, agreed, aunt, twelve_shirts, ada):
    theirs = Order.objects.open(title="The other household’s", customer=aunt, by=ada)
    bag = Bag.objects.get()
    theirs.bags.add(bag)
    extra = add_shirt(bag, 13)
    extra.pieces.update(order=theirs)
    twelve_shirts[0].pieces.update(order=agreed)
    page = shown(opens(agreed, NAME))
    assert "Twelve came in." in page
    for words in ("Thirteen", "The other household"):
        assert words not in page, words
    client = opens(theirs)
    assert "Twelve came in." in shown(client)  # eleven that are nobody's yet, and theirs


def test_the_photo_of_another_households_shirt_never_opens(
    opens, agreed, twelve_shirts, aunt, ada, settings, tmp_path
):
    settings.DATA_DIR = tmp_path
    theirs = Order.objects.open(title="Another’s", customer=aunt, by=ada)
    theirs.bags.add(Bag.objects.get())
    shared, hers = twelve_shirts[0], twelve_shirts[1]
    shared.pieces.update(order=theirs)
    photos = [photo_of(agreed) for _ in range(2)]
    for photo, shirt in zip(photos, (shared, hers), strict=True):
        Photo.objects.filter(pk=photo.pk).update(order=None, shirt=shirt)
    client = opens(agreed, NAME)
    assert client.get(f"/for-you/cut/photos/{photos[0].pk}/320.webp").status_code == 404
    assert client.get(f"/for-you/cut/photos/{photos[1].pk}/320.webp").status_code == 200


def test_whoever_collects_it_is_not_shown_the_pieces(opens, agreed):
    Order.objects.update(collector="A neighbor")
    client = opens(agreed, "A neighbor")
    assert client.get("/for-you/cut/").status_code == 404
    assert client.post("/for-you/cut/pile/").status_code == 404


def test_it_asks_the_database_six_times_at_most_whoever_opens_it(opens, agreed, uncle, shop, ada):
    Order.objects.update(recipient="The graduate", collector="A neighbor", label_words="For you")
    for name in (NAME, uncle.name, "The graduate", "A neighbor"):
        client = opens(agreed, name)
        with CaptureQueriesContext(connection) as queries:
            assert client.get("/for-you/").status_code == 200
        assert len(queries) <= 6, (name, [each["sql"][:90] for each in queries.captured_queries])


def test_guessed_expired_and_closed_links_ask_the_database_the_same(client, agreed, shop, ada):
    cache.clear()
    far = shop.today() + timedelta(days=30)
    _, late = Link.objects.give_out(agreed, until=shop.today() - timedelta(days=1), by=ada)
    link, shut = Link.objects.give_out(agreed, until=far, by=ada)
    link.revoke(by=ada)
    asked = []
    for token in ("x" * 43, late, shut):
        with CaptureQueriesContext(connection) as queries:
            assert client.get(f"/for-you/{token}/").status_code == 404
        asked.append([each["sql"].split("token_hash")[0] for each in queries])
    assert asked[0] == asked[1] == asked[2]
    assert len(asked[0]) == 2
