"""Her yes to cut on her own page: all but what she crosses out, by name for the single ones."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.core.cache import cache
from django.core.files.uploadedfile import SimpleUploadedFile

from orders.background import photos
from orders.models import ApprovedPiece, Bag, Consent, Link, Order, Piece, Shirt
from orders.yes import yes_to_cut
from tests.cast import add_shirt
from tests.orders.pictures import drawing, saved
from tests.pages.quilt_room import words_of

pytestmark = pytest.mark.django_db
AUNT, PAGE = "An aunt of Ferncliff", "/for-you/cut/"


@pytest.fixture
def hers(client, shop, ada, drawn, settings, tmp_path):
    cache.clear()
    settings.DATA_DIR = tmp_path
    _, token = Link.objects.give_out(drawn, until=shop.today() + timedelta(days=30), by=ada)
    client.get(f"/for-you/{token}/")
    return client


def pieces():
    return [piece.pk for piece in Piece.objects.order_by("shirt__number")]


def test_her_page_leads_to_the_pieces(hers):
    assert "/for-you/cut/" in hers.get("/for-you/").content.decode()
    page = words_of(hers.get(PAGE).content.decode())
    assert "Yes, cut all 12" in page
    assert f"The yes is for {AUNT} to give." in page


def test_her_yes_is_to_all_but_what_she_crosses_out(hers):
    answer = hers.post(
        f"{PAGE}pile/", {"piece": pieces(), "but": pieces()[:2], "name": " an AUNT of ferncliff"}
    )
    assert (answer.status_code, answer.url) == (302, PAGE)
    said = Consent.objects.get()
    assert (said.said_by, said.how, said.written_by) == (AUNT, "page", None)
    assert ApprovedPiece.objects.standing().count() == 10
    assert "Yes, cut all 2" in words_of(hers.get(PAGE).content.decode())


def test_another_name_is_no_yes(hers):
    answer = hers.post(f"{PAGE}pile/", {"piece": pieces(), "but": pieces()[:1], "name": "A neighbor"})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert f"This yes is for {AUNT} to give." in page
    assert f'value="{pieces()[0]}" aria-label="Not 01F" checked' in page
    assert not Consent.objects.exists()


def test_a_yes_without_a_name_is_asked_for_one(hers):
    answer = hers.post(f"{PAGE}pile/", {"piece": pieces()})
    assert answer.status_code == 422
    assert "Type your name, as under a letter." in answer.content.decode()


def test_two_names_say_yes_to_a_contested_piece_from_one_page(hers, ada):
    shirt = Shirt.objects.get(number=7)
    yes_to_cut.ask_singly(shirt, [AUNT, "Her brother"], for_the_day=False, why="", by=ada)
    piece = shirt.pieces.get()
    assert hers.post(f"{PAGE}{piece.pk}/", {"name": "A neighbor"}).status_code == 422
    hers.post(f"{PAGE}{piece.pk}/", {"name": AUNT})
    assert "Her brother has not said yes yet" in words_of(hers.get(PAGE).content.decode())
    hers.post(f"{PAGE}{piece.pk}/", {"name": "her brother"})
    assert ApprovedPiece.objects.standing().get().piece == piece


def test_nothing_is_agreed_once_the_order_is_called_off(hers, drawn, ada):
    drawn.cancel(by=ada)
    assert hers.post(f"{PAGE}pile/", {"piece": pieces(), "name": AUNT}).status_code == 409
    assert not Consent.objects.exists()


def test_photos_of_her_shirts_are_shown_and_no_others(hers, aunt, ada):
    mine = photos.receive(SimpleUploadedFile("a.jpg", saved(drawing())), of=Shirt.objects.get(number=7))
    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    bag = Bag.objects.create(customer=aunt, brought_by="she", count=1, received_by=ada)
    other.bags.add(bag)
    shirt = add_shirt(bag, 40)
    theirs = photos.receive(SimpleUploadedFile("b.jpg", saved(drawing(99, 70))), of=shirt)
    assert hers.get(f"{PAGE}photos/{mine.pk}/320.webp").status_code == 200
    assert hers.get(f"{PAGE}photos/{theirs.pk}/320.webp").status_code == 404
    assert hers.get(f"{PAGE}photos/{mine.pk}/7.webp").status_code == 404
    assert hers.post(f"{PAGE}{shirt.pieces.get().pk}/", {"name": AUNT}).status_code == 404


def test_without_her_link_it_is_closed(client, shop, drawn):
    cache.clear()
    for answer in (client.get(PAGE), client.post(f"{PAGE}pile/"), client.post(f"{PAGE}1/")):
        assert answer.status_code == 404
        assert "This link is closed" in answer.content.decode()


def test_the_pages_words_of_a_memorial_are_quiet(hers, drawn):
    Order.objects.update(memorial=True)
    page = hers.get(PAGE).content.decode()
    assert 'class="mine quiet quiet-floor"' in page
    assert "Your quilt" not in words_of(page)
