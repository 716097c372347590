"""The Bag room: the count as a sentence, and each shirt with what it still lacks."""

from __future__ import annotations

import re
from datetime import UTC, datetime

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from orders.bag import intake
from orders.models import Bag, Order, Paper, Shirt
from tests.cast import add_shirt

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(client, ada):
    client.force_login(ada)
    return client


def room(client, order):
    answer = client.get(f"/quilts/{order.number}/bag/")
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split())


def test_the_count_is_a_sentence_and_adds_up(owner, order, twelve_shirts, ada):
    twelve_shirts[0].give_back(by=ada)
    words = room(owner, order)
    assert "Twelve came in" in words
    assert "<b>12</b> in = <b>11</b> in work + <b>0</b> used + <b>1</b> returned whole" in words
    assert "The count adds up" in words
    assert "brought by the aunt" in words


def test_what_is_not_logged_or_missing_is_said(owner, order, twelve_shirts, ada):
    bag = order.bags.get()
    bag.count_again(14, by=ada)
    twelve_shirts[6].miss(by=ada)
    words = room(owner, order)
    assert "2 not logged yet" in words
    assert "Missing: 07" in words
    assert "The count adds up" not in words


def test_more_logged_than_counted_asks_for_a_new_count(owner, order, twelve_shirts, ada):
    order.bags.get().count_again(10, by=ada)
    assert "12 logged, 10 counted: count again" in room(owner, order)


def test_each_shirt_names_what_it_lacks(owner, order, twelve_shirts):
    twelve_shirts[2].pieces.update(sizes_are_usual=True, print_kind="unknown")
    words = room(owner, order)
    assert "Lacks photo, print size, feel" in words
    assert words.count("Lacks photo <") + words.count("Lacks photo<") == 11


def test_an_order_without_a_bag_asks_for_it(owner, aunt, ada):
    order = Order.objects.open(title="Another", customer=aunt, by=ada)
    words = room(owner, order)
    assert "No bag yet" in words
    assert "Take the bag in" in words


def test_a_sealed_bag_says_so_and_what_to_beware_of(owner, order, ada):
    intake.receive_bag(order, by=ada, count=None, brought_by="a carrier", mold=True)
    words = room(owner, order)
    assert "A sealed bag" in words
    assert "do not open this bag indoors" in words


def test_the_receipt_is_made_once_asked_for_and_then_linked(owner, order, twelve_shirts):
    bag = order.bags.get()
    answer = owner.post(f"/quilts/{order.number}/bag/{bag.pk}/receipt/")
    paper = Paper.objects.get()
    assert answer.url == f"/papers/{paper.number}.pdf"
    assert f"Receipt {paper.number}" in room(owner, order)


def test_a_bag_that_is_here_can_serve_a_second_quilt(owner, order, twelve_shirts, aunt, ada):
    second = Order.objects.open(title="Another", customer=aunt, by=ada)
    bag = order.bags.get()
    assert "Use it here too" in room(owner, second)
    owner.post(f"/quilts/{second.number}/bag/sharing/", {"bag": bag.pk})
    assert set(bag.orders.all()) == {order, second}
    assert "also for No. 1" in room(owner, second)
    assert owner.post(f"/quilts/{second.number}/bag/sharing/", {"bag": "x"}).status_code == 404


def test_a_helper_sees_the_room_without_contacts_or_the_receipt(client, order, twelve_shirts, bo):
    client.force_login(bo)
    words = room(client, order)
    assert "Twelve came in" in words
    assert "555 0131" not in words
    assert "receipt</button>" not in words
    bag = order.bags.get()
    assert client.post(f"/quilts/{order.number}/bag/{bag.pk}/receipt/").status_code == 403


def test_somebody_outside_is_led_to_the_door_and_an_unknown_order_is_not_here(client, order, ada):
    assert client.get(f"/quilts/{order.number}/bag/").url.startswith("/sign-in/")
    client.force_login(ada)
    assert client.get("/quilts/999/bag/").status_code == 404


def test_forty_shirts_ask_for_no_more_than_twelve(owner, order, twelve_shirts):
    room(owner, order)
    with CaptureQueriesContext(connection) as few:
        room(owner, order)
    for number in range(13, 41):
        add_shirt(order.bags.get(), number)
    with CaptureQueriesContext(connection) as many:
        room(owner, order)
    assert Shirt.objects.count() == 40
    assert len(many) == len(few)
    assert len(few) <= 24


def test_the_facts_of_a_bag_can_be_written_and_a_second_phone_loses_nothing(owner, order, ada):
    bag = order.bags.get()
    address = f"/quilts/{order.number}/bag/{bag.pk}/"
    said = {"count": "13", "brought_by": "the aunt", "how": "hand", "place": "rack 2", "version": "1"}
    assert owner.get(address).status_code == 200
    assert owner.post(address, said).status_code == 302
    late = owner.post(address, said | {"count": "11", "place": "box 9", "notes": "She will come back"})
    page = late.content.decode()
    assert late.status_code == 409
    assert "Somebody else changed this" in page
    for shown in ("rack 2", "box 9", "13", "11", "She will come back"):
        assert shown in page
    bag.refresh_from_db()
    assert (bag.count, bag.place) == (13, "rack 2")
    again = owner.post(address, said | {"count": "11", "place": "box 9", "version": str(bag.version)})
    assert again.status_code == 302
    assert Bag.objects.get(pk=bag.pk).place == "box 9"


def test_the_day_a_bag_came_is_the_shops_and_not_the_clocks_of_the_computer(owner, order, twelve_shirts):
    Bag.objects.update(received_at=datetime(2027, 4, 15, 3, 10, tzinfo=UTC))  # late evening in New York
    assert "By hand on Wed 14 Apr" in room(owner, order).replace("\u00a0", " ")


def test_more_logged_than_counted_is_an_equation_that_is_still_true(owner, order, twelve_shirts, ada):
    order.bags.get().count_again(10, by=ada)
    for page in (room(owner, order), owner.get(f"/quilts/{order.number}/bag/places/").content.decode()):
        equation = re.search(r'class="equation">(.*?)</p>', page, re.S).group(1)
        numbers = [int(each) for each in re.findall(r"<b>(\d+)</b>", equation)]
        assert numbers == [10, 12, 0, 0, 0, 2]
        assert "− <b>2</b> more than were counted" in equation
    assert 'class="button main"' not in room(owner, order)  # no receipt is made of a count that is not right
