"""Two households whose shirts came in one bag: each link opens its own, and no word of the other."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.core.cache import cache

from orders.models import Bag, Customer, Link, Order, Piece, Shirt
from tests.cast import add_shirt
from tests.pages.test_for_you_page import photo_of

pytestmark = pytest.mark.django_db
OURS = ("An aunt of Ferncliff", "The aunt’s surprise", "Her regatta")
THEIRS = ("A cousin of Dunmore", "The cousin’s quilt", "His jubilee", "555 0188")
PAGES = ("/for-you/", "/for-you/cut/")


@pytest.fixture
def households(drawn, ada, settings, tmp_path):
    """Return the orders of two customers on one bag, a shirt of each with its story and photo."""
    settings.DATA_DIR = tmp_path
    cousin = Customer.objects.create(name="A cousin of Dunmore", phone="555 0188")
    theirs = Order.objects.open(title="The cousin’s quilt", customer=cousin, by=ada)
    theirs.bags.add(Bag.objects.get())
    his = add_shirt(Bag.objects.get(), 13)
    his.pieces.update(order=theirs)
    Shirt.objects.filter(pk=his.pk).update(story="His jubilee", team="His jubilee")
    hers = Piece.objects.filter(order=drawn).first() or Piece.objects.exclude(shirt=his).first()
    Piece.objects.filter(pk=hers.pk).update(order=drawn)
    Shirt.objects.filter(pk=hers.shirt_id).update(story="Her regatta", team="Her regatta")
    return drawn, theirs


def opened(client, order, shop, ada):
    cache.clear()
    _, token = Link.objects.give_out(order, until=shop.today() + timedelta(days=9), by=ada)
    client.cookies.clear()
    client.get(f"/for-you/{token}/")
    return client


def test_each_link_tells_no_word_of_the_other(client, households, shop, ada):
    for order, others in zip(households, (THEIRS, OURS), strict=True):
        hers = opened(client, order, shop, ada)
        for page in PAGES:
            answer = hers.get(page)
            assert answer.status_code in (200, 404)
            assert [word for word in others if word in answer.text] == [], page
    assert hers.get("/for-you/").status_code == 200


def test_no_photo_and_no_piece_of_the_other_is_reached_by_its_number(client, households, shop, ada):
    for order, other in (households, households[::-1]):
        photo = photo_of(other)
        piece = Piece.objects.filter(order=other).first()
        hers = opened(client, order, shop, ada)
        for place in (f"photos/{photo.pk}/320.webp", f"cut/photos/{photo.pk}/320.webp"):
            assert hers.get(f"/for-you/{place}").status_code == 404, place
        assert hers.post(f"/for-you/cut/{piece.pk}/", {"name": order.customer.name}).status_code == 404
        assert photo_of(order).pk != photo.pk
        assert hers.get(f"/for-you/photos/{photo_of(order).pk}/320.webp").status_code == 200
