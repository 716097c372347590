"""A payment is taken once, with a receipt, and never more than is owed."""

import pytest

from orders.account import money
from orders.models import Customer, Entry, Paper, Payer

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(client, ada):
    client.force_login(ada)
    return client


def pay(client, order, **change):
    said = {"amount": "250.38", "payer": str(order.customer_id), "method": "card", "key": "abc", **change}
    address = f"/quilts/{order.number}/account/payments/"
    return client.post(address, {f"pay-{name}": value for name, value in said.items()})


def test_the_deposit_is_written_with_its_receipt_and_paper(owner, agreed):
    answer = pay(owner, agreed)
    assert answer.status_code == 302
    entry = Entry.objects.of_payments().get()
    assert (entry.receipt_number, entry.method, entry.payer) == (1, "card", agreed.customer)
    assert Paper.objects.get(kind="deposit").made_of["entry"] == entry.pk
    shown = owner.get(answer.url).content.decode()
    assert "Receipt 1 is written." in shown
    assert "− $250.38" in shown


def test_sent_twice_it_is_one_posting_and_one_paper(owner, agreed):
    for _ in range(2):
        assert pay(owner, agreed).status_code == 302
    assert Entry.objects.of_payments().count() == 1
    assert Paper.objects.filter(kind="deposit").count() == 1


def test_sent_again_with_other_figures_it_is_refused_in_words(owner, agreed):
    pay(owner, agreed)
    answer = pay(owner, agreed, amount="100")
    assert answer.status_code == 409
    assert "already sent with other figures" in answer.content.decode()
    assert money.owing_of(agreed).paid == 25038


def test_more_than_is_open_comes_back_with_what_is_open(owner, agreed):
    answer = pay(owner, agreed, amount="600")
    shown = answer.content.decode()
    assert answer.status_code == 422
    assert "Only $500.76 is open" in shown
    assert 'value="600"' in shown
    assert 'name="pay-key" value="abc"' in shown
    assert not Entry.objects.of_payments().exists()


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"amount": "a lot"}, "is not an amount"),
        ({"amount": "10.005"}, "finer than USD allows"),
        ({"method": ""}, "Choose how it was paid."),
        ({"payer": "999"}, "Choose who paid."),
        ({"key": ""}, "Open the account again."),
    ],
)
def test_what_makes_no_sense_comes_back_and_nothing_is_written(owner, agreed, change, words):
    answer = pay(owner, agreed, **change)
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert not Entry.objects.of_payments().exists()


def test_an_amount_may_be_typed_with_thousands_apart(owner, agreed):
    assert pay(owner, agreed, amount="1,242.27").status_code == 422
    assert "Only $500.76" in pay(owner, agreed, amount="1,242.27").content.decode()


def test_each_payer_gets_their_own_receipt(owner, agreed):
    uncle = Customer.objects.create(name="An uncle of Ferncliff")
    Payer.objects.create(order=agreed, customer=uncle, share=1)
    pay(owner, agreed)
    pay(owner, agreed, key="def", payer=str(uncle.pk), amount="250.38", method="cash")
    assert [entry.payer.name for entry in Entry.objects.of_payments()] == [
        "An aunt of Ferncliff",
        "An uncle of Ferncliff",
    ]
    assert money.owing_of(agreed).is_settled


def test_nothing_is_taken_before_a_price_is_agreed(owner, drawn):
    answer = pay(owner, drawn)
    assert answer.status_code == 422
    assert "Nothing is owed yet" in answer.content.decode()


def test_a_payment_is_taken_back_once_with_a_receipt_that_says_so(owner, agreed):
    pay(owner, agreed)
    for _ in range(2):
        answer = owner.post(f"/quilts/{agreed.number}/account/payments/1/reversal/")
        assert answer.status_code == 302
    assert [entry.receipt_number for entry in Entry.objects.of_payments()] == [1, 2]
    assert money.owing_of(agreed).balance == 50076
    assert "taken back since" in owner.get(answer.url).content.decode()


def test_a_receipt_of_another_order_is_not_here(owner, agreed, aunt, ada):
    from orders.models import Order

    pay(owner, agreed)
    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    assert owner.post(f"/quilts/{other.number}/account/payments/1/reversal/").status_code == 404


def test_what_takes_a_payment_back_cannot_itself_be_taken_back(owner, agreed):
    pay(owner, agreed)
    owner.post(f"/quilts/{agreed.number}/account/payments/1/reversal/")
    assert owner.post(f"/quilts/{agreed.number}/account/payments/2/reversal/").status_code == 404
