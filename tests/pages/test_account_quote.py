"""A quote is issued, said yes to, or taken back, from the Account room."""

import pytest
from django.db import connection

from orders import guards
from orders.account import quoting
from orders.models import Paper, Quote

pytestmark = pytest.mark.django_db
YES = {"yes-said_by": "An aunt of Ferncliff", "yes-how": "phone"}


@pytest.fixture
def owner(client, ada):
    client.force_login(ada)
    return client


def test_issuing_freezes_the_quote_and_makes_its_paper(owner, drawn):
    answer = owner.post(f"/quilts/{drawn.number}/account/quotes/")
    assert (answer.status_code, answer.url) == (302, f"/quilts/{drawn.number}/account/")
    quote = Quote.objects.get()
    assert quote.total == 50076
    assert Paper.objects.get(kind="quote").made_of["quote"] == quote.pk


def test_a_double_tap_issues_one_quote_and_one_paper(owner, drawn):
    for _ in range(2):
        owner.post(f"/quilts/{drawn.number}/account/quotes/")
    assert (Quote.objects.count(), Paper.objects.count()) == (1, 1)


def test_nothing_is_issued_while_something_is_missing_and_it_is_said(owner, order, twelve_shirts):
    answer = owner.post(f"/quilts/{order.number}/account/quotes/")
    assert answer.status_code == 422
    assert "No layout is drawn yet" in answer.content.decode()
    assert not Quote.objects.exists()


def test_a_yes_lays_out_the_work_and_is_owed(owner, quote, drawn):
    answer = owner.post(f"/quilts/{drawn.number}/account/quotes/1/acceptance/", YES)
    assert answer.status_code == 302
    quote.refresh_from_db()
    assert (quote.accepted_by, quote.accepted_how) == ("An aunt of Ferncliff", "phone")
    assert drawn.stages.exists()
    assert drawn.entries.charges().count() == 1


def test_a_yes_sent_twice_is_one(owner, quote, drawn):
    for _ in range(2):
        assert owner.post(f"/quilts/{drawn.number}/account/quotes/1/acceptance/", YES).status_code == 302
    assert drawn.entries.count() == 1


@pytest.mark.parametrize(
    ("change", "words"),
    [({"yes-said_by": "A passer-by"}, "Say whose yes it was."), ({"yes-how": ""}, "Say how it was said.")],
)
def test_a_yes_without_a_name_of_the_order_or_a_way_comes_back(owner, quote, drawn, change, words):
    answer = owner.post(f"/quilts/{drawn.number}/account/quotes/1/acceptance/", YES | change)
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert not drawn.entries.exists()


def test_a_yes_to_an_expired_quote_is_refused_in_words(owner, quote, drawn):
    guards.remove(connection)
    Quote.objects.update(valid_until="2020-01-01")
    answer = owner.post(f"/quilts/{drawn.number}/account/quotes/1/acceptance/", YES)
    assert answer.status_code == 409
    assert "past its day" in answer.content.decode()
    assert not drawn.entries.exists()


def test_a_yes_to_a_replaced_quote_is_refused_in_words(owner, quote, drawn, shop, ada):
    quoting.add_line(drawn, words="Label", kind="labour", minor=1500, by=ada)
    quoting.issue(drawn, shop, by=ada)
    answer = owner.post(f"/quilts/{drawn.number}/account/quotes/1/acceptance/", YES)
    assert answer.status_code == 409
    assert "A newer quote has taken the place" in answer.content.decode()


def test_a_quote_is_taken_back(owner, quote, drawn, shop):
    owner.post(f"/quilts/{drawn.number}/account/quotes/1/withdrawal/")
    quote.refresh_from_db()
    assert quote.standing(on=shop.today()) == "withdrawn"


def test_a_quote_of_another_order_is_not_here(owner, quote, drawn, aunt, ada):
    from orders.models import Order

    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    assert owner.post(f"/quilts/{other.number}/account/quotes/1/acceptance/", YES).status_code == 404
    assert owner.post(f"/quilts/{other.number}/account/quotes/1/withdrawal/").status_code == 404
