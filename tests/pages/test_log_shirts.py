"""Logging shirts: a photo, two taps, the next one."""

from __future__ import annotations

import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from orders.background import darkroom
from orders.models import Order, Shirt
from tests.orders.pictures import drawing, saved

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _empty_disk(settings, tmp_path):
    settings.DATA_DIR = tmp_path


@pytest.fixture
def address(order):
    return f"/quilts/{order.number}/bag/log/"


@pytest.fixture
def lines(address):
    return f"{address}lines/"


@pytest.fixture
def helper(client, order, bo):
    client.force_login(bo)
    return client


def taps(number=1, **change):
    offered = {"number": number, "offered": number}
    return {"kind": "tee", "keep": "front", "feel": "plastisol"} | offered | change


def picture(name="shirt.jpg", size=64):
    return SimpleUploadedFile(name, saved(drawing(size, 48)))


def test_the_next_number_is_large_and_the_default_is_not_felt_yet(helper, address, twelve_shirts):
    page = helper.get(address).content.decode()
    assert re.search(r'name="number" value="13"', page)
    assert re.findall(r'name="feel" value="(\w+)"[^>]* checked', page) == ["unknown"]
    assert "12 logged" in page
    assert 'capture="environment"' in page


@pytest.mark.parametrize(
    ("tapped", "kind", "fibres", "stretch"),
    [
        ("tee", "tee", {"cotton": "100"}, "medium"),
        ("sport tee", "sport tee", {"polyester": "100"}, "high"),
        ("other", "other", {}, "high"),
    ],
)
def test_what_is_tapped_is_what_is_kept(helper, address, order, tapped, kind, fibres, stretch):
    answer = helper.post(address, taps(kind=tapped, keep="both", feel="vinyl", photo=picture()))
    shirt = Shirt.objects.get()
    assert answer.url == f"{address}?bag={order.bags.get().pk}"
    assert (shirt.number, shirt.kind, shirt.fibres, shirt.stretch) == (1, kind, fibres, stretch)
    assert set(shirt.pieces.values_list("side", "print_kind")) == {("front", "vinyl"), ("back", "vinyl")}
    assert shirt.photos.count() == 1


def test_a_shirt_can_be_logged_without_a_photo_and_then_lacks_it(helper, address, order):
    helper.post(address, taps())
    assert "Lacks photo" in helper.get(f"/quilts/{order.number}/bag/").content.decode()


def test_sent_twice_it_is_one_shirt(helper, address):
    for _ in range(2):
        assert helper.post(address, taps(client_id="tap-1", photo=picture())).status_code == 302
    assert Shirt.objects.count() == 1


def test_that_was_all_keeps_the_last_shirt_but_makes_none_up(helper, address, order):
    room = f"/quilts/{order.number}/bag/"
    assert helper.post(address, taps(feel="unknown", last="1")).url == room
    assert Shirt.objects.count() == 0
    assert helper.post(address, taps(feel="unknown", last="1", photo=picture())).url == room
    assert Shirt.objects.count() == 1


def test_a_second_phone_gets_the_next_number_and_is_told_to_write_it_on_the_tag(helper, address):
    helper.post(address, taps(number=1, client_id="phone-a"))
    page = helper.post(address, taps(number=1, client_id="phone-b"), follow=True).content.decode()
    assert "This one is 02: 01 was taken meanwhile. Write 02 on its tag." in page
    assert list(Shirt.objects.values_list("number", flat=True)) == [1, 2]


@pytest.mark.parametrize(
    ("content", "fault"),
    [
        (b"Dear diary, this is no photo.", darkroom.NOT_A_PHOTO),
        (b"", "This file is empty"),
        (saved(drawing(600, 400))[:2000], "cut short"),
    ],
)
def test_a_bad_photo_is_refused_beside_it_and_the_taps_stay(helper, address, content, fault):
    answer = helper.post(
        address,
        taps(kind="tie", feel="foil", photo=SimpleUploadedFile("shirt.jpg", content), client_id="tap-9"),
    )
    page = answer.content.decode()
    assert answer.status_code == 422
    assert fault in page
    assert "tap-9" in page
    assert re.findall(r'value="([\w ]*)"[^>]* checked', page)[:3] == ["tie", "front", "foil"]
    assert (
        page.index('value="foil"')
        < page.index("checked", page.index('value="foil"'))
        < page.index('value="puff"')
    )
    assert Shirt.objects.count() == 0


def test_a_tap_that_does_not_exist_is_refused(helper, address):
    assert helper.post(address, taps(feel="sticky")).status_code == 422
    assert Shirt.objects.count() == 0


def test_without_a_bag_it_leads_to_the_room(client, aunt, ada):
    order = Order.objects.open(title="Another", customer=aunt, by=ada)
    client.force_login(ada)
    assert client.get(f"/quilts/{order.number}/bag/log/").url == f"/quilts/{order.number}/bag/"


def test_a_soiled_bag_says_how_to_handle_it_where_it_is_handled(helper, address, order):
    order.bags.update(soiled=True)
    assert "gloves on, bag sealed" in helper.get(address).content.decode()


def test_outside_and_unknown(client, address, ada):
    assert client.post(address, taps()).url.startswith("/sign-in/")
    client.force_login(ada)
    assert client.post("/quilts/999/bag/log/", taps()).status_code == 404
    assert Shirt.objects.count() == 0
