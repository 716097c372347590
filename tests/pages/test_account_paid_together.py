"""One payment for all that was told together, on the Account room; a receipt and its paper are one deed."""

import pytest
from django.db import OperationalError

from orders import papers
from orders.account import giving_back, money
from orders.models import Customer, Entry, Paper, Payer
from tests.orders.account.test_paid_together import two_agreed_together

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(client, ada):
    client.force_login(ada)
    return client


@pytest.fixture
def both(drawn, aunt, shop, ada):
    return two_agreed_together(drawn, aunt, shop, ada)


def send(client, order, **change):
    said = {"key": "k", "amount": "303.88", "payer": order.customer_id, "method": "check"} | change
    place = f"/quilts/{order.number}/account/payments/together/"
    return client.post(place, {f"all-{name}": value for name, value in said.items()})


def room(client, order):
    return client.get(f"/quilts/{order.number}/account/").content.decode()


def test_the_form_stands_in_both_rooms_with_the_deposit_of_all(owner, both):
    for order in both:
        page = room(owner, order)
        assert "One payment for all told together" in page
        assert 'value="303.88"' in page


def test_sent_twice_it_is_one_payment_with_one_paper_told_in_both_rooms(owner, both):
    for _ in range(2):
        assert send(owner, both[1]).status_code == 302
    assert Entry.objects.of_payments().count() == 2
    paper = Paper.objects.get(kind="deposit")
    assert paper.made_of["receipt"] == "1 and 2"
    for order, words in zip(both, ("receipt 1", "receipt 2"), strict=True):
        page = room(owner, order)
        assert f"{words}, part of one sum" in page
        assert 'value="303.88"' in page  # the rest of both


def test_taken_back_from_either_room_all_of_it_is(owner, both):
    send(owner, both[0])
    for _ in range(2):
        answer = owner.post(f"/quilts/{both[1].number}/account/payments/2/reversal/", follow=True)
        assert "Receipts 1 and 2 are taken back" in answer.content.decode()
    assert [money.owing_of(each).paid for each in both] == [0, 0]
    assert Paper.objects.filter(kind="taken back").count() == 2


def test_bounced_from_either_room_all_of_it_is(owner, both):
    send(owner, both[0])
    assert owner.post(f"/quilts/{both[0].number}/account/payments/1/bounce/").status_code == 302
    assert [money.owing_of(each).paid for each in both] == [0, 0]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"amount": "607.77"}, "Only $607.76 is open over all of them"),
        ({"amount": ""}, "Type the amount."),
        ({"payer": "999"}, "Choose who paid."),
        ({"method": "gift certificate"}, "Choose how it was paid."),
    ],
)
def test_what_cannot_be_comes_back_filled_in(owner, both, change, words):
    answer = send(owner, both[0], **change)
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert not Entry.objects.of_payments().exists()


def test_the_same_key_with_other_figures_is_refused_in_words(owner, both):
    send(owner, both[0])
    answer = send(owner, both[0], amount="100")
    assert answer.status_code == 409
    assert "already sent with other figures" in answer.content.decode()


def test_told_alone_there_is_no_such_form(owner, agreed):
    assert "One payment for all" not in room(owner, agreed)
    answer = send(owner, agreed)
    assert answer.status_code == 409
    assert "Nothing was told together" in answer.content.decode()


def test_who_pays_for_one_of_them_alone_does_not_pay_for_all(owner, both):
    uncle = Customer.objects.create(name="An uncle")
    Payer.objects.create(order=both[0], customer=uncle, share=1)
    assert send(owner, both[0], payer=uncle.pk).status_code == 422
    Payer.objects.filter(order=both[1]).update(customer=uncle)
    assert send(owner, both[0], payer=uncle.pk).status_code == 302


def test_signed_out_helper_get_and_another_number(client, bo, ada, both):
    assert send(client, both[0]).url.startswith("/sign-in/")
    client.force_login(bo)
    assert send(client, both[0]).status_code == 403
    client.force_login(ada)
    assert client.get(f"/quilts/{both[0].number}/account/payments/together/").status_code == 405
    assert client.post("/quilts/999/account/payments/together/").status_code == 404


def test_the_room_of_two_told_together_asks_as_often_as_before(owner, both, django_assert_max_num_queries):
    room(owner, both[0])
    with django_assert_max_num_queries(45):
        room(owner, both[0])


@pytest.mark.parametrize("noun", ["payments", "tips", "payments/1/bounce", "payments/1/reversal"])
def test_where_the_paper_cannot_be_written_the_money_is_not_either(client, agreed, ada, monkeypatch, noun):
    """The answer then says that nothing was kept, so nothing may be."""
    client.force_login(ada)
    client.raise_request_exception = False
    money.take_payment(agreed, minor=100, payer=agreed.customer, method="check", key="a", by=ada)

    def busy(*args, **kwargs):
        raise OperationalError("database is locked")

    monkeypatch.setattr(papers, "_make", busy)
    prefix = {"payments": "pay", "tips": "tip"}.get(noun, "x")
    said = {"key": "b", "amount": "5", "payer": agreed.customer_id, "method": "cash"}
    place = f"/quilts/{agreed.number}/account/{noun}/"
    answer = client.post(place, {f"{prefix}-{name}": value for name, value in said.items()})
    assert answer.status_code == 503
    assert "Nothing of what you just sent was kept" in answer.content.decode()
    assert Entry.objects.exclude(kind="charge").count() == 1


def test_a_payment_of_which_some_was_given_back_is_not_taken_back_and_the_page_says_why(owner, agreed, ada):
    paid = money.take_payment(agreed, minor=900, payer=agreed.customer, method="check", key="a", by=ada)
    giving_back.give_back(paid, minor=300, method="cash", key="b", by=ada)
    answer = owner.post(f"/quilts/{agreed.number}/account/payments/1/reversal/")
    assert answer.status_code == 409
    assert "Part of it was given back already" in answer.content.decode()
