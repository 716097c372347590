"""The page that forgets an enquiry, and the time after which the shop does so by itself."""

from __future__ import annotations

import pytest

from orders.models import Enquiry, Event, Shop

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(client, shop, ada):
    client.force_login(ada)
    return client


@pytest.fixture
def asked(shop, ada):
    return Enquiry.objects.write_down(
        by=ada, name="Somebody of Sorrel Bank", reach="555 0142", what="a quilt"
    )


def test_it_tells_what_goes_and_what_stays_and_looking_changes_nothing(owner, asked):
    assert f"/enquiries/{asked.pk}/forgetting/" in owner.get(f"/enquiries/{asked.pk}/").text
    shown = owner.get(f"/enquiries/{asked.pk}/forgetting/").text
    for words in ("It cannot be taken back", "The name and how to reach them", "without a name"):
        assert words in shown, words
    assert Enquiry.objects.get().name == "Somebody of Sorrel Bank"


def test_forgotten_it_is_on_no_list_and_under_no_address(owner, asked):
    place = f"/enquiries/{asked.pk}/forgetting/"
    assert owner.post(place).status_code == 302
    for page in ("/", "/quilts/", "/weeks/"):
        shown = owner.get(page).text
        assert "Sorrel Bank" not in shown, page
        assert "Forgotten customer" not in shown, page
    for what in ("", "forgetting/"):
        assert owner.get(f"/enquiries/{asked.pk}/{what}").status_code == 404
    for what in ("pencil/", "answer/", "decline/", "order/", "mail/", "forgetting/"):
        assert owner.post(f"/enquiries/{asked.pk}/{what}").status_code == 404
    assert Event.objects.filter(what="enquiry forgotten").count() == 1


def test_one_that_became_an_order_is_not_forgotten_here(owner, asked, ada):
    asked.turn_into_order(title="A quilt", by=ada)
    assert "forgetting/" not in owner.get(f"/enquiries/{asked.pk}/").text
    assert owner.post(f"/enquiries/{asked.pk}/forgetting/").status_code == 404


def test_the_owner_sets_how_long_enquiries_are_kept_and_it_is_off_at_first(owner, shop):
    assert shop.enquiries_kept_days is None
    assert "Enquiries stay until you forget them" in owner.get("/workroom/").text
    assert owner.post("/workroom/kept/", {"days": "29"}).status_code == 422
    assert owner.post("/workroom/kept/", {"days": "365"}).status_code == 302
    assert Shop.objects.get().enquiries_kept_days == 365
    assert "forgotten after 365 days" in owner.get("/workroom/").text
    owner.post("/workroom/kept/", {"days": ""})
    assert Shop.objects.get().enquiries_kept_days is None
