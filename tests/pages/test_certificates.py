"""Gift certificates on their page: what is owed on each, and one more sold."""

import pytest

from orders.models import Account, Certificate, Entry, Posting

pytestmark = pytest.mark.django_db
PLACE = "/books/certificates/"
SOLD = {
    "sold-key": "k", "sold-amount": "150", "sold-bought_by": "A partner of Lower Pentland",
    "sold-given_to": "", "sold-method": "card",
}  # fmt: skip


@pytest.fixture
def owner(client, ada, shop):
    client.force_login(ada)
    return client


def test_one_is_sold_once_and_is_owed(owner):
    for _ in range(2):
        assert owner.post(PLACE, SOLD).status_code == 302
    assert Certificate.objects.get().number == 1
    assert Posting.objects.balance(Account.CERTIFICATES) == -15000
    shown = owner.get(PLACE).content.decode()
    assert "$150.00 is owed on them" in shown
    assert "A partner of Lower Pentland" in shown


def test_one_sold_before_the_books_has_no_receipt(owner):
    owner.post(PLACE, SOLD | {"sold-method": "before"})
    assert Entry.objects.get().receipt_number is None


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"sold-amount": ""}, "Type the amount."),
        ({"sold-bought_by": ""}, "Say who bought it."),
        ({"sold-method": "gift certificate"}, "Choose how."),
    ],
)
def test_what_is_missing_comes_back_filled_in(owner, change, words):
    answer = owner.post(PLACE, SOLD | change)
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert not Certificate.objects.exists()


def test_a_helper_never_sees_them(client, bo, shop):
    client.force_login(bo)
    assert client.get(PLACE).status_code == 403


def test_a_stranger_is_sent_to_the_door(client, shop):
    assert client.get(PLACE).status_code == 302


def test_the_list_takes_as_many_queries_for_nine_as_for_one(owner):
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    owner.post(PLACE, SOLD)
    owner.get(PLACE)
    with CaptureQueriesContext(connection) as few:
        owner.get(PLACE)
    for number in range(8):
        owner.post(PLACE, SOLD | {"sold-key": f"k{number}"})
    owner.get(PLACE)
    with CaptureQueriesContext(connection) as many:
        owner.get(PLACE)
    assert len(many) == len(few)
