"""A new enquiry: six questions answered at once."""

from __future__ import annotations

from datetime import timedelta

import pytest

from orders.models import Enquiry

pytestmark = pytest.mark.django_db
ADDRESS = "/enquiries/new/"


@pytest.fixture
def asked(shop):
    return {
        "name": "A grandmother, Sorrel Bank",
        "reach": "text 555 0142",
        "kind": "quilt",
        "shirts": "20",
        "needed_by": str(shop.today() + timedelta(days=120)),
        "size": "",
        "client_id": "the-phone-1",
    }


@pytest.fixture
def owner(client, shop, ada):
    client.force_login(ada)
    return client


def test_it_is_kept_and_answered_with_a_band_and_a_day(owner, asked):
    answer = owner.post(ADDRESS, asked, follow=True)
    enquiry = Enquiry.objects.get()
    assert answer.redirect_chain == [(f"/enquiries/{enquiry.pk}/", 302)]
    words = answer.content.decode()
    assert "$720 to $860" in words
    assert "66 × 82" in words.replace("\N{NO-BREAK SPACE}", " ")
    assert f"{enquiry.fits_by:%b}" in words
    assert enquiry.answered_at is not None


def test_sent_twice_it_is_one_enquiry(owner, asked):
    first, second = owner.post(ADDRESS, asked), owner.post(ADDRESS, asked)
    assert first.url == second.url
    assert Enquiry.objects.count() == 1


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"name": ""}, "Type a name"),
        ({"reach": ""}, "one way to reach"),
        ({"shirts": ""}, "roughly how many"),
        ({"shirts": "0"}, "At least one shirt"),
        ({"shirts": "-3"}, "At least one shirt"),
        ({"shirts": "twenty"}, "roughly how many"),
        ({"shirts": "4000"}, "several quilts"),
        ({"needed_by": "2020-01-01"}, "This day is past"),
        ({"needed_by": "soon"}, "Pick a day"),
        ({"size": "own"}, "Type the size"),
        ({"size": "own", "width": "12.3 in", "height": "60"}, "12 19/64 in or 12 5/16 in"),
        ({"size": "own", "width": "3", "height": "60"}, "or more"),
        ({"kind": "yacht"}, "Select a valid choice"),
    ],
)
def test_a_fault_stands_beside_its_field_and_what_was_typed_stays(owner, asked, change, fault):
    answer = owner.post(ADDRESS, asked | {"occasion": "A seventieth birthday"} | change)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert fault in page
    assert "A seventieth birthday" in page
    assert "the-phone-1" in page
    assert not Enquiry.objects.exists()


def test_a_repair_needs_no_number_of_shirts(owner, asked):
    answer = owner.post(ADDRESS, asked | {"kind": "repair", "shirts": ""}, follow=True)
    assert "Let me see it first" in answer.content.decode()


def test_the_size_of_a_bed_is_kept_as_its_measures(owner, asked):
    owner.post(ADDRESS, asked | {"size": "twin"})
    enquiry = Enquiry.objects.get()
    assert enquiry.wanted_size == enquiry.laid_size


def test_a_helper_and_somebody_outside_are_turned_away(client, shop, bo, asked):
    assert client.post(ADDRESS, asked).url.startswith("/sign-in/")
    client.force_login(bo)
    assert client.get(ADDRESS).status_code == 403
    assert client.post(ADDRESS, asked).status_code == 403
    assert not Enquiry.objects.exists()
