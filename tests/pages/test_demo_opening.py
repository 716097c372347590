"""The made-up shop: opened from the first page, told at the door, emptied again."""

from __future__ import annotations

import pytest
from django.urls import reverse

from orders.demo.shop import HELPER, OWNER, PASSWORD, NotADemo, close_demo, open_demo
from orders.models import Entry, Order, Person, Shirt, Shop

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


def test_the_first_page_offers_a_made_up_shop_and_the_door_tells_how_to_get_in(client):
    assert "Look round a made-up shop" in client.get(reverse("first-owner")).text
    answer = client.post(reverse("demo-opening"), follow=True)
    for words in (OWNER, HELPER, PASSWORD, "made up"):
        assert words in answer.text
    signed_in = client.post(reverse("sign-in"), {"name": OWNER, "password": PASSWORD}, follow=True)
    assert "first" in signed_in.text


def test_opened_twice_it_is_one_shop(client):
    client.post(reverse("demo-opening"))
    before = Order.objects.count()
    client.post(reverse("demo-opening"))
    assert Order.objects.count() == before


def test_where_somebody_works_already_it_does_not_open(client, order):
    client.post(reverse("demo-opening"))
    assert [each.number for each in Order.objects.all()] == [order.number]


def test_a_real_shop_is_never_emptied(client, order, ada):
    client.force_login(ada)
    client.post(reverse("demo-closing"))
    assert Order.objects.count() == 1
    with pytest.raises(NotADemo):
        close_demo()


def test_a_helper_cannot_empty_it(client):
    open_demo()
    client.force_login(Person.objects.get(name=HELPER))
    assert client.post(reverse("demo-closing")).status_code == 403


@pytest.mark.django_db(transaction=True)
def test_emptied_nothing_is_left_and_the_guards_stand_again(client):
    open_demo()
    client.force_login(Person.objects.get(name=OWNER))
    client.post(reverse("demo-closing"))
    assert not any(model.objects.exists() for model in (Shop, Person, Order, Shirt, Entry))
    open_demo()
    with pytest.raises(Exception, match="stays"):
        Entry.objects.update(words="other")


def test_a_look_at_an_address_opens_nothing(client):
    assert client.get(reverse("demo-opening")).status_code == 405
    assert not Person.objects.exists()
