"""A bag comes in while she stands there."""

from __future__ import annotations

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from orders.background import darkroom
from orders.models import Bag, Order, Photo
from tests.orders.pictures import drawing, saved

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _empty_disk(settings, tmp_path):
    settings.DATA_DIR = tmp_path


@pytest.fixture
def new_order(aunt, ada):
    return Order.objects.open(title="Another", customer=aunt, by=ada)


@pytest.fixture
def address(new_order):
    return f"/quilts/{new_order.number}/bag/arrival/"


SAID = {
    "count": "20",
    "brought_by": "her sister",
    "how": "hand",
    "seen": ["smoke", "pets"],
    "client_id": "door-1",
}


def picture(name="pile.jpg"):
    return SimpleUploadedFile(name, saved(drawing()))


@pytest.mark.parametrize("who", ["ada", "bo"])
def test_it_is_taken_in_with_its_photo_and_leads_to_the_signing(client, address, new_order, who, request):
    client.force_login(request.getfixturevalue(who))
    assert client.get(address).status_code == 200
    answer = client.post(address, SAID | {"photo": picture()})
    bag = new_order.bags.get()
    assert answer.url == f"/quilts/{new_order.number}/bag/{bag.pk}/signing/"
    assert (bag.count, bag.brought_by, bag.smoke, bag.pets, bag.mold) == (20, "her sister", True, True, False)
    assert (bag.washed_without_softener, bag.leftovers_back) == (False, True)  # nobody was asked yet
    assert bag.photos.count() == 1


def test_sent_twice_it_is_one_bag_with_one_photo(client, address, ada):
    client.force_login(ada)
    for _ in range(2):
        assert client.post(address, SAID | {"photo": picture()}).status_code == 302
    assert (Bag.objects.count(), Photo.objects.count()) == (1, 1)


def test_sacks_that_nobody_looked_into_have_no_count(client, address, new_order, ada):
    client.force_login(ada)
    page = client.post(address, SAID | {"count": "", "sacks": "3"}, follow=True).content.decode()
    bag = new_order.bags.get()
    assert (bag.count, bag.sacks, bag.is_inspected) == (None, 3, False)
    assert "Three sealed bags" in page


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"count": "0"}, "Type 1 or more"),
        ({"count": "-4"}, "Type 1 or more"),
        ({"count": "a dozen"}, "whole number, such as 12"),
        ({"count": "9000"}, "Count it once more"),
        ({"sacks": "0"}, "Type how many, 1 to 50."),
        ({"brought_by": ""}, "Type who brought"),
        ({"how": "balloon"}, "Select a valid choice"),
    ],
)
def test_a_fault_stands_beside_its_field_and_text_and_photo_are_kept(
    client, address, new_order, ada, change, fault
):
    client.force_login(ada)
    answer = client.post(address, SAID | {"place": "The green shelf", "photo": picture()} | change)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert fault in page
    assert "The green shelf" in page
    assert "The photo of the pile is kept" in page
    assert not Bag.objects.exists()
    kept = Photo.objects.get()
    client.post(address, SAID | {"kept_photo": kept.pk})
    assert new_order.bags.get().photos.get() == kept


def test_a_text_file_as_photo_is_refused_and_the_words_stay(client, address, ada):
    client.force_login(ada)
    fake = SimpleUploadedFile("pile.jpg", b"Dear diary, this is no photo.")
    answer = client.post(address, SAID | {"place": "rack 2", "photo": fake})
    assert answer.status_code == 422
    assert darkroom.NOT_A_PHOTO in answer.content.decode()
    assert "rack 2" in answer.content.decode()
    assert not Bag.objects.exists()


def test_somebody_elses_photo_cannot_be_claimed(client, address, new_order, ada, bo):
    from orders.background import photos

    theirs = photos.receive(picture(), by=bo)
    client.force_login(ada)
    client.post(address, SAID | {"kept_photo": theirs.pk})
    assert not new_order.bags.get().photos.exists()


def test_outside_and_unknown(client, address, ada):
    assert client.post(address, SAID).url.startswith("/sign-in/")
    client.force_login(ada)
    assert client.post("/quilts/999/bag/arrival/", SAID).status_code == 404


@pytest.fixture
def queue(client, new_order, ada):
    """Return a phone's queue that sends the photo of the pile after the bag."""
    client.force_login(ada)

    def send(client_id="door-1", **data):
        return client.post(f"/quilts/{new_order.number}/bag/piles/{client_id}/photo/", data)

    return send


def test_the_photo_of_a_pile_follows_its_bag_and_sent_twice_is_one(queue, client, address, new_order):
    client.post(address, SAID)
    for _ in range(2):
        assert queue("door-1", photo=picture()).status_code == 200
    assert new_order.bags.get().photos.count() == 1
    assert Photo.objects.count() == 1


def test_the_photo_of_a_pile_is_for_a_bag_of_this_quilt_alone(queue, client, address, order, twelve_shirts):
    order.bags.update(client_id="elsewhere")
    client.post(address, SAID)
    assert queue("elsewhere", photo=picture()).status_code == 404
    assert queue("never-sent", photo=picture()).status_code == 404
    assert not Photo.objects.exists()


@pytest.mark.parametrize(
    ("data", "fault"),
    [({}, "Take it again"), ({"photo": SimpleUploadedFile("a.jpg", b"no picture")}, "photo")],
)
def test_what_is_no_photo_of_a_pile_is_refused_in_words(queue, client, address, data, fault):
    client.post(address, SAID)
    answer = queue(**data)
    assert answer.status_code == 422
    assert fault in answer.json()["fault"]
