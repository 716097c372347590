"""What a phone sends when it can: the taps of a line, then its photo, each once however often it is sent."""

from __future__ import annotations

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from orders.bag import intake
from orders.models import Order, Photo, Shirt
from tests.orders.pictures import drawing, saved

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _empty_disk(settings, tmp_path):
    settings.DATA_DIR = tmp_path


@pytest.fixture
def address(order):
    return f"/quilts/{order.number}/bag/log/lines/"


@pytest.fixture
def helper(client, order, bo):
    client.force_login(bo)
    return client


@pytest.fixture
def taps(order):
    plain = {"kind": "tee", "keep": "front", "feel": "vinyl", "bag": order.bags.get().pk, "client_id": "a-1"}
    return lambda **change: plain | {"number": 1, "offered": 1} | change


def picture(seed=64):
    return SimpleUploadedFile("shirt.jpg", saved(drawing(seed, 48)))


def test_a_line_is_logged_and_answered_with_its_number(helper, address, taps):
    for _ in range(2):
        answer = helper.post(address, taps())
        assert answer.status_code == 200
        assert answer.json() == {
            "number": 1,
            "address": address.replace("bag/log/lines/", "shirts/1/"),
            "said": "",
            "next": 2,
        }
    assert Shirt.objects.count() == 1


def test_its_photo_comes_after_it_and_twice_is_once(helper, address, taps):
    helper.post(address, taps(keep="both"))
    for _ in range(2):
        sent = {"photo": picture(), "client_id": "p-1"}
        assert helper.post(f"{address}a-1/photo/", sent).status_code == 200
    photo = Photo.objects.get()
    shirt = Shirt.objects.get()
    assert photo.shirt == shirt
    assert shirt.pieces.get(side="front").photo == photo
    assert shirt.pieces.get(side="back").photo is None  # one photo shows one side


def test_the_same_bytes_under_another_id_are_the_same_photo(helper, address, taps):
    helper.post(address, taps())
    for client_id in ("p-1", "p-2"):
        helper.post(f"{address}a-1/photo/", {"photo": picture(), "client_id": client_id})
    assert Photo.objects.count() == 1


def test_a_photo_that_arrives_again_after_its_answer_was_lost_still_shows_its_panel(helper, address, taps):
    helper.post(address, taps())
    helper.post(f"{address}a-1/photo/", {"photo": picture(), "client_id": "p-1"})
    Shirt.objects.get().pieces.update(photo=None)  # as if the shop’s computer had stopped between the two
    helper.post(f"{address}a-1/photo/", {"photo": picture(), "client_id": "p-1"})
    assert Shirt.objects.get().pieces.get().photo == Photo.objects.get()


def test_two_phones_offered_the_same_number_get_two_and_the_second_says_so(helper, address, taps):
    helper.post(address, taps(client_id="phone-a"))
    second = helper.post(address, taps(client_id="phone-b")).json()
    assert second["number"] == 2
    assert second["said"] == "This one is 02: 01 was taken meanwhile. Write 02 on its tag."
    assert helper.post(address, taps(client_id="phone-b")).json() == second  # told again as long as it is so


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"kind": "toga"}, "What is it?: Select a valid choice"),
        ({"feel": "sticky"}, "How does the print feel?: Select a valid choice"),
        ({"number": "0"}, "Number on its tag: A tag has a number from 1 to 999."),
        ({"number": "12345"}, "Number on its tag: A tag has a number"),
        ({"garments": "61"}, "Garments on this tag: A line is of 1 to 60 garments."),
        ({"fibres": "60/30 cotton polyester"}, "Or as the label says it: The shares make 90"),
        ({"bag": "999"}, "This bag is not of this quilt any more"),
        ({"bag": ""}, "This bag is not of this quilt any more"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(helper, address, taps, change, fault):
    answer = helper.post(address, taps(**change))
    assert answer.status_code == 422
    assert fault in answer.json()["fault"]
    assert not Shirt.objects.exists()


def test_a_typed_tag_that_another_shirt_has_is_refused(helper, address, taps):
    helper.post(address, taps(client_id="a"))
    answer = helper.post(address, taps(client_id="b", number=1, offered=2))
    assert answer.status_code == 422
    assert "01 is a tee that is logged already" in answer.json()["fault"]


@pytest.mark.parametrize(
    ("content", "fault"),
    [(b"Dear diary", "no photo"), (b"", "empty"), (saved(drawing(600, 400))[:2000], "cut short")],
)
def test_a_bad_photo_is_refused_and_the_line_stays(helper, address, taps, content, fault):
    helper.post(address, taps())
    sent = {"photo": SimpleUploadedFile("x.jpg", content), "client_id": "p-1"}
    answer = helper.post(f"{address}a-1/photo/", sent)
    assert answer.status_code == 422
    assert fault in answer.json()["fault"]
    assert (Shirt.objects.count(), Photo.objects.count()) == (1, 0)


def test_a_photo_without_a_file_is_refused(helper, address, taps):
    helper.post(address, taps())
    assert (
        helper.post(f"{address}a-1/photo/", {"client_id": "p-1"}).json()["fault"].startswith("No photo came")
    )


def test_everything_told_at_the_table_is_kept(helper, address, taps):
    told = {
        "garments": "2", "guest": "on", "blend": "50/50 cotton polyester", "smell": "camphor",
        "apart": "smell", "found": "a key", "flaws": "a hole", "story": "The first race.",
    }  # fmt: skip
    assert helper.post(address, taps(**told)).status_code == 200
    shirt = Shirt.objects.get()
    assert (shirt.garments, shirt.guest, shirt.fibres, shirt.label_read) == (
        2, True, {"cotton": "50", "polyester": "50"}, True,
    )  # fmt: skip
    assert (shirt.smell, shirt.apart, shirt.pockets, shirt.found) == ("camphor", "smell", "emptied", "a key")
    assert (shirt.flaws, shirt.story) == ("a hole", "The first race.")


def test_another_orders_line_gets_no_photo_and_outside_gets_nothing(client, address, taps, order, aunt, ada):
    assert client.post(address, taps()).url.startswith("/sign-in/")
    client.force_login(ada)
    client.post(address, taps())
    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    intake.receive_bag(other, by=ada, count=1, brought_by="the aunt")
    theirs = address.replace(f"/quilts/{order.number}/", f"/quilts/{other.number}/")
    assert client.post(f"{theirs}a-1/photo/", {"photo": picture(), "client_id": "p"}).status_code == 404
    assert client.post(theirs, taps(client_id="b")).status_code == 422  # the bag is not that order’s
    assert client.get(address).status_code == 405
    assert Photo.objects.count() == 0


def test_a_photo_for_which_the_disk_has_no_room_is_not_dropped_by_the_phone(helper, address, taps, settings):
    """RFC 4918, 11.5: 507 is a state that passes, so the phone keeps the photo and sends it again."""
    helper.post(address, taps())
    settings.LEAST_FREE_BYTES = 10**18
    answer = helper.post(f"{address}a-1/photo/", {"photo": picture(), "client_id": "p-1"})
    assert answer.status_code == 507
    assert "Make room on its disk first." in answer.json()["fault"]
