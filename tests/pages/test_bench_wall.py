"""The wall at the bench: its photo beside the agreed picture, and what was seen, before rows are joined."""

from __future__ import annotations

import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from orders.models import Event, Order, Photo
from orders.yes import yes_to_picture
from orders.yes.yes_to_picture import Said

pytestmark = pytest.mark.django_db


@pytest.fixture
def place(client, agreed, shop, ada, settings, tmp_path):
    """Return the address of the wall of an order whose picture was agreed."""
    settings.DATA_DIR = tmp_path
    client.force_login(ada)
    asked = yes_to_picture.ask(agreed, shop, by=ada)
    yes_to_picture.say(agreed, asked.number, Said(agreed.approver, "phone"), by=ada)
    return f"/quilts/{agreed.number}/bench/wall/"


def a_photo(color="navy"):
    picture = io.BytesIO()
    Image.new("RGB", (80, 60), color).save(picture, "JPEG")
    return SimpleUploadedFile("wall.jpg", picture.getvalue(), content_type="image/jpeg")


def test_the_photo_lies_beside_the_picture_and_is_found_as_agreed(client, place):
    assert "No photo of the wall yet." in client.get(place).content.decode()
    for _ in range(2):
        assert client.post(place, {"photo": a_photo(), "client_id": "a-1"}).status_code == 302
    photo = Photo.objects.get()
    page = client.get(place).content.decode()
    assert 'class="big-quilt"' in page
    assert f"/photos/{photo.pk}/" in page
    answer = client.post(f"{place}verdict/", {"photo": photo.pk, "verdict": "as agreed"})
    assert answer.url == place.replace("wall", "machine")
    assert "As agreed" in client.get(place).content.decode()
    assert Event.objects.get(what="wall compared").facts["verdict"] == "as agreed"


def test_not_yet_says_what_is_to_be_put_right(client, place):
    client.post(place, {"photo": a_photo()})
    said = {"photo": Photo.objects.get().pk, "verdict": "not yet", "why": "04F is upside down"}
    assert client.post(f"{place}verdict/", said).url == place
    page = client.get(place).content.decode()
    assert "Not yet" in page
    assert "04F is upside down" in page


def test_a_look_at_an_older_photo_is_refused(client, place):
    client.post(place, {"photo": a_photo()})
    old = Photo.objects.get()
    client.post(place, {"photo": a_photo("olive")})
    answer = client.post(f"{place}verdict/", {"photo": old.pk, "verdict": "as agreed"})
    assert answer.status_code == 409
    assert "A newer photo of the wall came in." in answer.content.decode()


@pytest.mark.parametrize(
    "said", [{}, {"photo": "x", "verdict": "as agreed"}, {"photo": 1, "verdict": "maybe"}]
)
def test_a_verdict_that_is_none_comes_back(client, place, said):
    client.post(place, {"photo": a_photo()})
    assert client.post(f"{place}verdict/", said).status_code == 422
    assert not Event.objects.filter(what="wall compared").exists()


def test_what_is_no_photo_comes_back(client, place):
    assert client.post(place, {}).status_code == 422
    answer = client.post(place, {"photo": SimpleUploadedFile("wall.jpg", b"no picture")})
    assert answer.status_code == 422
    assert not Event.objects.filter(what="blocks on the wall").exists()


def test_without_an_agreed_picture_it_says_whom_to_ask(client, agreed, shop, ada):
    client.force_login(ada)
    page = client.get(f"/quilts/{agreed.number}/bench/wall/").content.decode()
    assert "No picture is agreed yet." in page


def test_the_helper_compares_too_and_another_order_is_not_here(client, place, bo):
    client.force_login(bo)
    client.post(place, {"photo": a_photo()})
    said = {"photo": Photo.objects.get().pk, "verdict": "as agreed"}
    assert client.post(f"{place}verdict/", said).status_code == 302
    assert client.get("/quilts/999/bench/wall/").status_code == 404
    assert Order.objects.count() == 1


def test_looking_changes_nothing_and_a_verdict_is_never_a_look(client, place):
    before = Event.objects.count()
    client.get(place)
    assert client.get(f"{place}verdict/").status_code == 405
    assert Event.objects.count() == before


def test_the_rail_shows_it_among_the_quilts(client, place):
    assert 'href="/quilts/" aria-current="true"' in client.get(place).content.decode()
