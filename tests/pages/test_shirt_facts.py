"""A shirt's own page: its facts, its photos, where it is."""

from __future__ import annotations

import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from orders.background import darkroom
from orders.bag.fibres import rule_of, show_fibres
from orders.models import Event, Shirt
from tests.orders.pictures import drawing, saved

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _empty_disk(settings, tmp_path):
    settings.DATA_DIR = tmp_path


@pytest.fixture
def helper(client, order, twelve_shirts, bo):
    client.force_login(bo)
    return client


@pytest.fixture
def address(order):
    return f"/quilts/{order.number}/shirts/3/"


SAID = {
    "kind": "sweatshirt",
    "fibres": "60/40 cotton polyester",
    "knit": "knit",
    "stretch": "low",
    "thickness": "thick",
    "wash": "apart",
    "flags": ["fleece", "zip"],
    "flaws": "A hole under the left arm",
    "story": "Worn at the first race.",
    "version": "1",
}


def test_all_facts_are_kept(helper, address):
    assert helper.get(address).status_code == 200
    assert helper.post(address, SAID).url == address
    shirt = Shirt.objects.get(number=3)
    assert (shirt.kind, shirt.fibres, shirt.knit) == ("sweatshirt", {"cotton": "60", "polyester": "40"}, True)
    assert (shirt.stretch, shirt.thickness, shirt.wash) == ("low", "thick", "apart")
    assert (shirt.flags, shirt.flaws) == (["fleece", "zip"], "A hole under the left arm")
    assert "60/40 cotton polyester" in helper.get(address).content.decode()
    assert Event.objects.filter(what="shirt written").count() == 1


def test_a_label_that_is_gone_stays_gone_and_is_not_one_that_nobody_read(helper, address):
    helper.post(address, SAID | {"fibres": "", "blend": "label gone"})
    shirt = Shirt.objects.get(number=3)
    assert (shirt.fibres, shirt.label_read) == ({}, True)
    assert re.search(r'value="label gone"[^>]* checked', helper.get(address).content.decode())
    helper.post(address, SAID | {"fibres": "", "version": "2"})
    assert not Shirt.objects.get(number=3).label_read
    assert "Nobody has read its label" in helper.get(address).content.decode()


@pytest.mark.parametrize("words", rule_of("US").blends)
def test_a_common_blend_takes_one_tap(helper, address, words):
    helper.post(address, SAID | {"fibres": "", "blend": words})
    shirt = Shirt.objects.get(number=3)
    assert (show_fibres(shirt.fibres), shirt.label_read) == (words, True)


def test_two_lengths_make_a_stretch_and_its_word(helper, address):
    helper.post(address, SAID | {"stretch_from": "4", "stretch_to": "5 1/2"})
    # ASTM D2594: 100 × (5.5 − 4) / 4 = 37.5, half up
    assert Shirt.objects.get(number=3).stretch == "high"
    assert "It stretches by 38 %." in helper.get(address).content.decode()


def test_smell_pockets_and_what_was_in_them_are_kept_and_shown_with_the_bag(helper, address, order):
    helper.post(address, SAID | {"smell": "camphor", "found": "a ticket stub"})
    shirt = Shirt.objects.get(number=3)
    assert (shirt.smell, shirt.pockets, shirt.found) == ("camphor", "emptied", "a ticket stub")
    room = helper.get(f"/quilts/{order.number}/bag/").content.decode()
    assert "In the pockets of 03: a ticket stub" in room


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"fibres": "60/30 cotton polyester"}, "The shares make 90, not 100"),
        ({"fibres": "100 cotten"}, "is no fiber a label names"),
        ({"blend": "100 cotton"}, "Tap one or type it, not both"),
        ({"blend": "holy"}, "Select a valid choice"),
        ({"stretch_from": "4"}, "Type both, or neither"),
        ({"stretch_from": "4", "stretch_to": "3"}, "not shorter than it lies"),
        ({"stretch_from": "0", "stretch_to": "3"}, "Measure how long it lies"),
        ({"pockets": "deep"}, "Select a valid choice"),
        ({"kind": ""}, "Type what it is"),
        ({"stretch": "endless"}, "Select a valid choice"),
        ({"flags": ["haunted"]}, "Select a valid choice"),
    ],
)
def test_a_fault_stands_beside_its_field_and_what_was_typed_stays(helper, address, change, fault):
    answer = helper.post(address, SAID | change)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert fault in page
    assert "A hole under the left arm" in page
    assert Shirt.objects.get(number=3).kind == "tee"


def test_a_second_phone_sees_both_and_loses_nothing(helper, address):
    helper.post(address, SAID)
    late = helper.post(address, SAID | {"fibres": "100 cotton", "flaws": "A stain", "knit": "woven"})
    page = late.content.decode()
    assert late.status_code == 409
    for shown in ("60/40 cotton polyester", "100 cotton", "A hole under the left arm", "A stain", "Woven"):
        assert shown in page
    assert 'name="version" value="2"' in page
    assert Shirt.objects.get(number=3).flaws == "A hole under the left arm"
    assert helper.post(address, SAID | {"flaws": "A stain", "version": "2"}).status_code == 302
    assert Shirt.objects.get(number=3).flaws == "A stain"


def test_what_can_hurt_is_said_where_the_flag_is(helper, address):
    page = helper.get(address).content.decode()
    for words in (
        "under 12 months",
        "No claim of flame resistance",
        "gloves on, bag sealed",
        "do not open it indoors",
    ):
        assert words in page


def test_one_more_photo_shows_the_panels_that_have_none(helper, address):
    photo = SimpleUploadedFile("shirt.jpg", saved(drawing()))
    assert helper.post(address + "photos/", {"photo": photo}).url == address
    shirt = Shirt.objects.get(number=3)
    assert shirt.pieces.get().photo == shirt.photos.get()


def test_a_text_file_as_photo_is_refused_beside_it(helper, address):
    fake = SimpleUploadedFile("shirt.jpg", b"Dear diary")
    answer = helper.post(address + "photos/", {"photo": fake})
    assert answer.status_code == 422
    assert darkroom.NOT_A_PHOTO in answer.content.decode()
    assert helper.post(address + "photos/").status_code == 422


def test_given_back_missing_and_found_each_can_be_undone(helper, address, order):
    page = helper.post(address + "return/", follow=True).content.decode()
    assert "03 is given back whole." in page
    assert f'action="{address}finding/"' in page
    helper.post(address + "finding/")
    helper.post(address + "absence/")
    assert Shirt.objects.get(number=3).state == "missing"
    assert order.bags.get().tally().missing == 1
    assert "Found it" in helper.get(address).content.decode()
    helper.post(address + "finding/")
    assert Shirt.objects.get(number=3).state == "in work"


@pytest.mark.parametrize("what", ["return", "absence", "finding"])
def test_a_cut_shirt_does_not_go_back_whole(helper, address, what):
    Shirt.objects.filter(number=3).update(state="used")
    page = helper.post(f"{address}{what}/", follow=True).content.decode()
    assert "03 is cut; its leftovers can be returned" in page
    assert Shirt.objects.get(number=3).state == "used"


@pytest.mark.parametrize("what", ["return", "absence", "finding", "photos", "panels", "panels/front"])
def test_what_changes_something_is_no_link(helper, address, what):
    assert helper.get(f"{address}{what}/").status_code == 405


def test_outside_unknown_and_another_orders_shirt(client, address, order, twelve_shirts, aunt, ada):
    from orders.models import Order

    assert client.post(address, SAID).url.startswith("/sign-in/")
    client.force_login(ada)
    second = Order.objects.open(title="Another", customer=aunt, by=ada)
    assert client.get(f"/quilts/{second.number}/shirts/3/").status_code == 404
    assert client.post(f"/quilts/{second.number}/shirts/3/return/").status_code == 404
    assert client.get(f"/quilts/{order.number}/shirts/99/").status_code == 404
