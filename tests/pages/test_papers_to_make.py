"""Papers made when they are asked for: from the Account room and from an enquiry."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.utils import timezone

from orders.models import Enquiry, Paper
from tests.orders.papers.making import an_enquiry, finish

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(client, ada, settings, tmp_path):
    settings.DATA_DIR = tmp_path
    client.force_login(ada)
    return client


@pytest.mark.parametrize(
    ("noun", "kind"),
    [
        ("materials", "materials"),
        ("care-card", "care"),
        ("hand-over-note", "hand over"),
        ("booklet", "booklet"),
        ("receipt", "receipt"),
    ],
)
def test_each_is_made_with_its_own_number(owner, agreed, noun, kind):
    answer = owner.post(f"/quilts/{agreed.number}/account/papers/{noun}/")
    paper = Paper.objects.get(kind=kind)
    assert (answer.status_code, answer.url) == (302, f"/papers/{paper.number}.pdf")


def test_what_is_no_paper_is_not_found_and_looking_makes_none(owner, agreed):
    place = f"/quilts/{agreed.number}/account/papers/"
    assert owner.post(f"{place}contract/").status_code == 404
    assert owner.get(f"{place}booklet/").status_code == 405
    assert not Paper.objects.filter(kind="booklet").exists()


def test_a_notice_asks_for_a_day_to_come_of_a_quilt_that_is_finished(owner, agreed, shop):
    place = f"/quilts/{agreed.number}/account/unclaimed-notice/"
    later = {"collect_by": shop.today() + timedelta(days=30), "sent_how": "registered letter"}
    assert owner.post(place, later).status_code == 409
    finish(agreed, shop, days_ago=40)
    past = owner.post(place, later | {"collect_by": shop.today()})
    assert past.status_code == 422
    assert "still to come" in past.content.decode()
    assert "registered letter" in past.content.decode()
    assert owner.post(place, later).status_code == 302
    made = Paper.objects.get(kind="unclaimed").made_of
    assert (made["days"], made["sent_how"], made["told"]) == (40, "registered letter", [])


def test_a_notice_is_not_made_of_what_has_left(owner, agreed, ada, shop):
    finish(agreed, shop, days_ago=40)
    agreed.handed_over_at = timezone.now()
    agreed.save()
    later = {"collect_by": shop.today() + timedelta(days=30)}
    assert owner.post(f"/quilts/{agreed.number}/account/unclaimed-notice/", later).status_code == 409


def test_an_estimate_is_printed_where_a_band_was_told(owner, shop):
    told, bare = an_enquiry(shop), Enquiry.objects.create(name="Somebody", reach="x@example.org")
    assert owner.post(f"/enquiries/{bare.pk}/estimate/").url == f"/enquiries/{bare.pk}/"
    answer = owner.post(f"/enquiries/{told.pk}/estimate/")
    assert answer.url == f"/papers/{Paper.objects.get(kind='estimate').number}.pdf"
    assert "Print the estimate" in owner.get(f"/enquiries/{told.pk}/").content.decode()
    assert "Print the estimate" not in owner.get(f"/enquiries/{bare.pk}/").content.decode()


def test_who_is_who_is_written_down_in_the_account_room(owner, agreed, shop):
    place = f"/quilts/{agreed.number}/account/people/"
    day = shop.today() + timedelta(days=9)
    said = {"recipient": "The graduate", "collector": "A neighbor", "secret_until": day, "label_words": "x"}
    assert owner.post(place, said).status_code == 302
    agreed.refresh_from_db()
    assert (agreed.recipient, agreed.collector, agreed.secret_until) == ("The graduate", "A neighbor", day)
    assert "The graduate" in owner.get(f"/quilts/{agreed.number}/account/").content.decode()


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"recipient": ""}, "from whom it is a secret"),
        ({"secret_until": "2020-01-01"}, "still to come"),
        ({"label_words": "a\nb\nc\nd"}, "Up to three lines"),
    ],
)
def test_what_cannot_be_kept_comes_back_with_its_reason(owner, agreed, shop, change, words):
    said = {"recipient": "The graduate", "secret_until": shop.today() + timedelta(days=9)} | change
    answer = owner.post(f"/quilts/{agreed.number}/account/people/", said)
    assert answer.status_code == 422
    assert words in answer.content.decode()
