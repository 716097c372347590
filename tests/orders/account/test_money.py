"""What is owed, paid and taken back; every sum from the postings."""

from __future__ import annotations

import pytest

from orders.account import agreeing, giving_back, money, quoting
from orders.models import Account, CannotAccept, Entry, EntryConflict, Posting

pytestmark = pytest.mark.django_db


def pay(order, minor, *, key="k", method="card", payer=None):
    payer = payer or order.customer
    return money.take_payment(order, minor=minor, payer=payer, method=method, key=key, by=None)


def test_a_quote_that_was_said_yes_to_is_owed_with_its_tax(agreed):
    assert money.owing_of(agreed) == money.Owing(charged=50076, deposit=25038)
    assert Posting.objects.balance(Account.SALES) == -46800
    assert Posting.objects.balance(Account.TAX) == -3276


def test_the_deposit_is_due_first_then_the_balance(agreed):
    assert money.owing_of(agreed).due == 25038
    pay(agreed, 10000)
    assert money.owing_of(agreed).due == 15038
    pay(agreed, 15038, key="k2")
    assert money.owing_of(agreed).due == 25038
    pay(agreed, 25038, key="k3", method="cash")
    owing = money.owing_of(agreed)
    assert (owing.due, owing.balance, owing.is_settled) == (0, 0, True)


def test_cash_and_card_lie_apart(agreed):
    pay(agreed, 100, method="cash")
    pay(agreed, 200, key="k2", method="check")
    assert Posting.objects.balance(Account.CASH) == 100
    assert Posting.objects.balance(Account.BANK) == 200


def test_a_payment_sent_twice_is_one_posting_even_when_it_paid_everything(agreed):
    first = pay(agreed, 50076)
    assert pay(agreed, 50076) == first
    assert Entry.objects.of_payments().count() == 1


@pytest.mark.parametrize("change", [{"minor": 200}, {"method": "cash"}])
def test_the_same_key_with_other_content_is_refused(agreed, change):
    pay(agreed, 100)
    with pytest.raises(EntryConflict):
        pay(agreed, **({"minor": 100} | change))


def test_the_same_key_from_another_payer_is_refused(agreed):
    pay(agreed, 100)
    uncle = type(agreed.customer).objects.create(name="An uncle")
    with pytest.raises(EntryConflict):
        pay(agreed, 100, payer=uncle)


@pytest.mark.parametrize(("minor", "words"), [(50077, "Only \\$500.76 is open"), (10**9, "is open")])
def test_more_than_is_owed_is_not_taken(agreed, minor, words):
    with pytest.raises(money.CannotPay, match=words):
        pay(agreed, minor)
    assert not Entry.objects.of_payments().exists()


def test_nothing_is_taken_before_a_price_is_agreed(quote, drawn):
    with pytest.raises(money.CannotPay, match="Nothing is owed yet"):
        pay(drawn, 100)


def test_a_payment_taken_back_is_owed_again_and_both_receipts_stay(agreed, ada):
    first = pay(agreed, 25038)
    back = giving_back.take_back(first, by=ada)
    assert giving_back.take_back(first, by=ada) == back
    assert (first.receipt_number, back.receipt_number, back.reverses) == (1, 2, first)
    assert money.owing_of(agreed).balance == 50076


def test_a_charge_is_not_taken_back_like_a_payment(agreed, ada):
    with pytest.raises(money.CannotPay):
        giving_back.take_back(agreed.entries.charges().get(), by=ada)


def test_a_second_quote_agreed_takes_the_place_of_the_first_on_the_account(agreed, quote, shop, ada):
    pay(agreed, 25038)
    quoting.add_line(agreed, words="Label", kind="labour", minor=1500, by=ada)
    second = quoting.issue(agreed, shop, by=ada)
    agreeing.accept(second, said_by="An aunt of Ferncliff", how="phone", by=ada)
    quote.refresh_from_db()
    assert quote.standing(on=shop.today()) == "replaced"
    assert money.owing_of(agreed).charged == second.total == 51681
    assert money.owing_of(agreed).balance == 51681 - 25038
    assert sum(Posting.objects.balance(each) for each in Account.values) == 0


def test_a_smaller_quote_than_was_paid_already_is_not_agreed(agreed, shop, ada):
    pay(agreed, 50076)
    quoting.add_line(agreed, words="Kindness", kind="credit", minor=10000, by=ada)
    second = quoting.issue(agreed, shop, by=ada)
    with pytest.raises(CannotAccept, match="Take a payment back first"):
        agreeing.accept(second, said_by="An aunt of Ferncliff", how="phone", by=ada)
    assert money.owing_of(agreed).charged == 50076


def test_a_receipt_has_no_gap_after_a_payment_that_was_refused(agreed):
    pay(agreed, 100)
    with pytest.raises(money.CannotPay):
        pay(agreed, 10**8, key="k2")
    assert pay(agreed, 100, key="k3").receipt_number == 2
