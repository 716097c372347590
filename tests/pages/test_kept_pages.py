"""A page of which nothing has changed is answered from memory, and never after a change."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
from django.contrib.messages import get_messages
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from config import kept_pages
from orders.account import money, resting
from orders.models import DayOff, Enquiry, Entry, Order, Person, Shop
from orders.models.as_seen import cards_of_the_workroom
from orders.views import quilts
from orders.workroom import change_facts
from tests.pages.kept import KEY, NAMES, address, look, owner, pages_are_drawn  # noqa: F401  (fixtures)

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("name", NAMES)
def test_a_page_looked_at_again_comes_from_memory_and_is_the_same(owner, agreed, name):  # noqa: F811
    place = address(name, agreed)
    owner.get(place)  # the first look of all has errands sent for what it lacks
    kept_pages.shelf.clear()
    first, again = look(owner, place), look(owner, place)
    assert (first[1], again[1]) == (False, True)
    assert again[0] == first[0]


def test_her_page_looked_at_again_asks_for_nothing_but_the_stamp(hers, agreed):
    client = hers(agreed)
    client.get("/for-you/")
    first = look(client, "/for-you/")
    with CaptureQueriesContext(connection) as asked:
        assert look(client, "/for-you/")[0] == first[0]
    assert len(asked) == 1


@pytest.mark.parametrize("name", NAMES)
def test_a_kept_answer_has_all_that_goes_with_the_first(owner, agreed, name):  # noqa: F811
    place = address(name, agreed)
    owner.get(place)
    first, again = (owner.get(place, HTTP_ACCEPT_ENCODING="gzip") for _ in range(2))
    assert again["Content-Encoding"] == "gzip"
    differ = {"Content-Length"} if name == "order-account" else set()  # it has a key for each drawing
    assert {each for each in first.headers if first[each] != again[each]} <= differ
    assert again.headers.keys() == first.headers.keys()
    assert "no-store" in again["Cache-Control"]
    assert again["Content-Security-Policy"]
    if not differ:
        assert again.content == first.content


def test_a_kept_page_has_a_new_key_so_that_two_payments_are_two(owner, agreed):  # noqa: F811
    place = address("order-account", agreed)
    keys = [KEY.findall(owner.get(place).content.decode()) for _ in range(3)]
    assert all(keys)
    assert len({key for some in keys for key in some}) == sum(map(len, keys))


def test_a_page_that_names_what_it_made_up_itself_is_not_kept():
    from django.http import HttpResponse

    named = '<input name="client_id" value="0b7c1f4e-2f63-4a53-9a0d-0f6f5c1b2a3d">'
    assert kept_pages.NAME.search(HttpResponse(named).content)


def retitle(order, shop, ada):
    Order.objects.filter(pk=order.pk).update(title="Another title")


def pay(order, shop, ada):
    money.take_payment(order, minor=1000, method="cash", payer=order.customer, key="one", by=ada)


def start(order, shop, ada):
    order.stages.order_by("position").first().start(by=ada)


def finish(order, shop, ada):
    order.stages.order_by("position").first().finish(by=ada)


def rest(order, shop, ada):
    resting.pause(order, why="She is away", by=ada)


def rename(order, shop, ada):
    change_facts(shop, by=ada, name="Another name", planned_share=70)
    order.stages.update(minutes=77)


def call_off(order, shop, ada):
    Order.objects.filter(pk=order.pk).update(cancelled_at=timezone.now())


def ask(order, shop, ada):
    Enquiry.objects.create(name="Somebody new", what="a quilt", reach="555 0131")


def stay_away(order, shop, ada):
    for days in range(200):
        DayOff.objects.create(day=shop.today() + timedelta(days=days))


def open_another(order, shop, ada):
    Order.objects.open(title="One more", customer=order.customer, by=ada)


def want_sooner(order, shop, ada):
    Order.objects.filter(pk=order.pk).update(needed_by=shop.today() - timedelta(days=3))


def promote(order, shop, ada):
    Person.objects.filter(pk=ada.pk).update(name="Ada the second")


def hand_over(order, shop, ada):
    order.hand_over("the aunt", by=ada)


SHOWN = ("today", "quilts", "order-account")
VERBS = [
    retitle, pay, start, finish, rest, rename, call_off, ask, stay_away, open_another, want_sooner, promote,
    hand_over,
]  # fmt: skip


@pytest.mark.parametrize("verb", VERBS)
def test_after_a_verb_every_page_is_as_if_drawn_anew(owner, agreed, shop, ada, verb):  # noqa: F811
    places = [address(name, agreed) for name in SHOWN]
    before = {place: look(owner, place)[0] for place in places}
    verb(agreed, shop, ada)
    after = {place: look(owner, place) for place in places}
    assert not any(from_memory for _, from_memory in after.values())
    kept_pages.shelf.clear()
    assert {place: page for place, (page, _) in after.items()} == {
        place: look(owner, place)[0] for place in places
    }
    assert verb is promote or any(after[place][0] != before[place] for place in places)


def test_her_page_tells_a_payment_at_once(hers, agreed, shop, ada):
    client = hers(agreed)
    before = [look(client, "/for-you/")[0] for _ in range(2)][-1]
    pay(agreed, shop, ada)
    after, from_memory = look(client, "/for-you/")
    assert not from_memory
    assert after != before


def test_a_form_of_a_kept_page_is_taken(agreed, ada, shop):
    client = Client(enforce_csrf_checks=True)
    client.force_login(ada)
    client.get(reverse("workroom"))
    look(client, address("order-account", agreed))
    page = client.get(address("order-account", agreed))
    token = re.search(r'name="csrfmiddlewaretoken" value="([^"]+)"', page.content.decode())[1]
    form = {
        "pay-amount": "1.00",
        "pay-method": "cash",
        "pay-payer": agreed.payers.get().customer_id,
        "pay-key": "k1",
    }
    sent = {**form, "csrfmiddlewaretoken": token}
    assert client.post(address("order-account", agreed) + "payments/", sent).status_code == 302
    assert Entry.objects.filter(key="k1").count() == 1
    assert client.post(address("order-account", agreed) + "payments/", form).status_code == 403


def test_the_cookie_of_forms_is_given_out_anew_with_a_kept_page(owner, agreed):  # noqa: F811
    first, again = owner.get("/quilts/"), owner.get("/quilts/")
    assert first.cookies.keys() == again.cookies.keys()


def test_what_is_said_once_is_said_once(owner, agreed, monkeypatch):  # noqa: F811
    look(owner, "/quilts/")
    owner.post(f"/stages/{agreed.stages.order_by('position').first().pk}/finish/", {"back": "today"})
    said = owner.get("/")
    assert list(get_messages(said.wsgi_request)) or "taken-back" in said.content.decode()
    assert "taken-back" not in owner.get("/").content.decode()


def test_the_next_minute_is_drawn_anew(owner, agreed, monkeypatch):  # noqa: F811
    look(owner, "/quilts/")
    assert look(owner, "/quilts/")[1]
    monkeypatch.setattr(kept_pages, "minute_now", lambda: "the next minute")
    assert not look(owner, "/quilts/")[1]


def test_another_question_and_another_way_to_ask_are_other_pages(owner, agreed):  # noqa: F811
    look(owner, "/quilts/")
    assert not look(owner, "/quilts/?put-away=1")[1]
    assert owner.get("/quilts/", HTTP_HX_REQUEST="true").status_code == 200
    assert owner.head("/quilts/").content == b""


def test_a_page_drawn_while_somebody_writes_is_not_kept_for_the_time_after(owner, agreed, monkeypatch):  # noqa: F811
    def written_meanwhile():
        found = cards_of_the_workroom()
        Shop.objects.update(name="Written meanwhile")
        return found

    with monkeypatch.context() as patch:
        patch.setattr(quilts, "cards_of_the_workroom", written_meanwhile)
        look(owner, "/quilts/")
    assert not look(owner, "/quilts/")[1]


def test_a_page_that_is_not_named_is_drawn_each_time(owner, shop):  # noqa: F811
    for _ in range(2):
        assert not look(owner, reverse("workroom"))[1]
    assert not kept_pages.shelf._pages


def test_no_more_is_kept_than_there_is_room_for(monkeypatch):
    shelf = kept_pages.Shelf()
    monkeypatch.setattr(kept_pages, "MOST_PAGES", 3)
    page = kept_pages.Page(("stamp", "minute"), b"x" * 10, (), False)
    for number in range(5):
        shelf.put(str(number), page)
    assert [shelf.find(str(number), ("stamp", "minute")) is not None for number in range(5)] == [
        False, False, True, True, True,
    ]  # fmt: skip
    monkeypatch.setattr(kept_pages, "MOST_BYTES", 15)
    shelf.put("5", page)
    assert list(shelf._pages) == ["5"]
    assert shelf._bytes == 10


def test_the_page_looked_at_longest_ago_goes_first(monkeypatch):
    shelf = kept_pages.Shelf()
    monkeypatch.setattr(kept_pages, "MOST_PAGES", 2)
    page = kept_pages.Page(("stamp", "minute"), b"x", (), False)
    shelf.put("one", page)
    shelf.put("two", page)
    shelf.find("one", ("stamp", "minute"))
    shelf.put("three", page)
    assert list(shelf._pages) == ["one", "three"]
