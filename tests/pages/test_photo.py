"""A photo on a page: for those who work in the shop, kept by their browser alone."""

import io

import pytest
from PIL import Image

from orders.background import errands
from orders.models import Photo
from orders.templatetags.photos import shown
from tests.orders.pictures import drawing, leave_the_sizes_for_later, receive, saved

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _empty_disk(settings, tmp_path):
    settings.DATA_DIR = tmp_path


@pytest.fixture
def photo(twelve_shirts, ada, monkeypatch):
    leave_the_sizes_for_later(monkeypatch)
    return receive(saved(drawing(1000, 750)), of=twelve_shirts[2], by=ada)


@pytest.fixture
def made(photo):
    errands.run_due()
    photo.refresh_from_db()
    return photo


def address(photo, size=320):
    return f"/photos/{photo.pk}/{size}.jpg"


@pytest.mark.parametrize("who", ["ada", "bo"])
def test_owner_and_helper_see_it_and_their_browser_keeps_it(client, made, who, request):
    client.force_login(request.getfixturevalue(who))
    answer = client.get(address(made))
    assert answer.headers["Content-Type"] == "image/jpeg"
    assert Image.open(io.BytesIO(answer.getvalue())).size == (320, 240)
    assert answer.headers["Cache-Control"] == "private, max-age=31536000, immutable"
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert answer.headers["Content-Disposition"].startswith("inline")


def test_somebody_signed_out_is_sent_to_the_door(client, made):
    assert client.get(address(made)).url == f"/sign-in/?next={address(made)}"


@pytest.mark.parametrize("wrong", ["/photos/{}/500.jpg", "/photos/{}/0/", "/photos/99{}/320.jpg"])
def test_sizes_and_photos_that_do_not_exist_are_not_here(client, ada, made, wrong):
    client.force_login(ada)
    assert client.get(wrong.format(made.pk)).status_code == 404


def test_nothing_can_be_sent_to_it(client, ada, made):
    client.force_login(ada)
    assert client.post(address(made)).status_code == 405


def test_until_it_is_made_a_drawing_keeps_its_place_and_no_browser_keeps_the_drawing(client, ada, photo):
    client.force_login(ada)
    answer = client.get(address(photo))
    assert answer.headers["Content-Type"] == "image/svg+xml"
    assert answer.headers["Cache-Control"] == "no-store"
    assert b'viewBox="0 0 320 240"' in answer.content
    assert "Shirt 03" in answer.content.decode()


def test_the_part_of_a_page_asks_again_until_the_photo_is_there(client, ada, photo):
    client.force_login(ada)
    waits = client.get(f"/photos/{photo.pk}/800/").content.decode()
    assert f'hx-get="/photos/{photo.pk}/800/"' in waits
    assert "<svg" in waits
    errands.run_due()
    there = client.get(f"/photos/{photo.pk}/800/").content.decode()
    assert f'src="/photos/{photo.pk}/800.jpg" width="800" height="600" alt="Shirt 03"' in there
    assert "hx-get" not in there


def test_a_photo_that_is_long_in_coming_is_no_longer_asked_for(client, ada, photo):
    from datetime import timedelta

    client.force_login(ada)
    Photo.objects.update(received_at=photo.received_at - timedelta(hours=1))
    assert "hx-get" not in client.get(f"/photos/{photo.pk}/800/").content.decode()


def test_a_gallery_asks_the_database_once_whatever_its_photos_are_of(
    twelve_shirts, order, ada, django_assert_num_queries
):
    for place in [*twelve_shirts[:4], order, order.bags.get(), None]:
        receive(saved(drawing(64, 48)), of=place, by=ada)
    with django_assert_num_queries(1):
        words = [shown(photo, 320)["photo"].words for photo in Photo.objects.with_things()]
    assert words == [
        "Shirt 01", "Shirt 02", "Shirt 03", "Shirt 04", order.title, "The bag as it came in", "A photo"
    ]  # fmt: skip
