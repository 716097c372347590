"""What may happen to money after it was agreed: each is an entry of its own, none exceeds what it is of."""

from __future__ import annotations

import pytest

from orders.account import adding, giving_back, money
from orders.models import Account, Certificate, Customer, Entry, EntryConflict, Payer, Posting

pytestmark = pytest.mark.django_db


def pay(order, minor, *, key="k", method="card", **change):
    change.setdefault("payer", order.customer)
    return money.take_payment(order, minor=minor, method=method, key=key, by=None, **change)


def sell(minor=15000, *, key="c", method="card"):
    entry = giving_back.sell_certificate(
        minor=minor, bought_by="A partner of Lower Pentland", given_to="", method=method, key=key, by=None
    )
    return entry.certificate


def nothing_is_made_or_lost():
    return sum(Posting.objects.balance(each) for each in Account.values) == 0


def test_a_check_that_bounced_is_owed_again_once(agreed):
    paid = pay(agreed, 25038, method="check")
    gone = giving_back.bounced(paid, by=None)
    assert giving_back.bounced(paid, by=None) == gone
    assert (gone.kind, gone.receipt_number, gone.words) == ("bounced", 2, "Receipt 1 bounced")
    assert money.owing_of(agreed).balance == 50076


def test_cash_does_not_bounce(agreed):
    with pytest.raises(money.CannotPay, match="can bounce"):
        giving_back.bounced(pay(agreed, 100, method="cash"), by=None)


def test_money_goes_back_to_who_paid_it_and_never_more_than_they_paid(agreed):
    uncle = Customer.objects.create(name="An uncle")
    pay(agreed, 20000)
    his = pay(agreed, 10000, key="his", payer=uncle)
    back = giving_back.give_back(his, minor=6000, method="cash", key="b1", by=None)
    assert (back.payer, back.of, back.receipt_number) == (uncle, his, 3)
    with pytest.raises(money.CannotPay, match=r"Only \$40.00 is left"):
        giving_back.give_back(his, minor=4001, method="card", key="b2", by=None)
    giving_back.give_back(his, minor=4000, method="card", key="b3", by=None)
    assert money.owing_of(agreed).paid == 20000
    assert nothing_is_made_or_lost()


def test_the_same_money_is_given_back_once(agreed):
    paid = pay(agreed, 10000)
    first = giving_back.give_back(paid, minor=10000, method="cash", key="b", by=None)
    assert giving_back.give_back(paid, minor=10000, method="cash", key="b", by=None) == first
    with pytest.raises(EntryConflict):
        giving_back.give_back(paid, minor=9000, method="cash", key="b", by=None)


def test_nothing_goes_back_of_a_payment_that_bounced(agreed):
    paid = pay(agreed, 10000)
    giving_back.bounced(paid, by=None)
    with pytest.raises(money.CannotPay, match="taken back or bounced"):
        giving_back.give_back(paid, minor=1, method="cash", key="b", by=None)


def test_a_payment_given_back_in_part_is_not_taken_back_whole(agreed):
    paid = pay(agreed, 10000)
    back = giving_back.give_back(paid, minor=1, method="cash", key="b", by=None)
    for undo in (giving_back.take_back, giving_back.bounced):
        with pytest.raises(money.CannotPay, match="Take that back first"):
            undo(Entry.objects.get(pk=paid.pk), by=None)
    giving_back.take_back(back, by=None)
    giving_back.take_back(Entry.objects.get(pk=paid.pk), by=None)
    assert money.owing_of(agreed).balance == 50076


def test_a_credit_is_a_line_of_its_own_with_its_share_of_the_tax(agreed):
    entry = adding.credit(agreed, words="For the melted print", minor=2000, key="x", by=None)
    assert entry.legs() == [("owed", "credits", 1869), ("owed", "tax credit", 131)]
    owing = money.owing_of(agreed)
    assert (owing.charged, owing.credited, owing.balance) == (50076, 2000, 48076)
    with pytest.raises(money.CannotPay, match=r"Only \$480.76 is charged"):
        adding.credit(agreed, words="More", minor=48077, key="y", by=None)


def test_a_credit_on_what_was_paid_leaves_something_to_give_back(agreed):
    paid = pay(agreed, 50076)
    adding.credit(agreed, words="Late", minor=5000, key="x", by=None)
    assert money.owing_of(agreed).to_give_back == 5000
    giving_back.give_back(paid, minor=5000, method="card", key="b", by=None)
    assert money.owing_of(agreed).is_settled


def test_a_line_added_later_is_owed_with_tax_only_where_it_is_taxed(agreed):
    adding.add(agreed, words="Third round", minor=2000, taxed=True, key="a", by=None)
    adding.add(agreed, words="Storage", minor=6000, taxed=False, key="b", by=None)
    assert money.owing_of(agreed).charged == 50076 + 2140 + 6000
    assert Posting.objects.balance(Account.TAX) == -3276 - 140


def test_a_new_quote_leaves_lines_added_later_where_they_are(agreed, shop, ada):
    from orders.account import agreeing, quoting

    adding.add(agreed, words="Third round", minor=2000, taxed=True, key="a", by=None)
    quoting.add_line(agreed, words="Label", kind="labour", minor=1500, by=ada)
    agreeing.accept(quoting.issue(agreed, shop, by=ada), said_by="An aunt of Ferncliff", how="phone", by=ada)
    assert money.owing_of(agreed).charged == 51681 + 2140


def test_nothing_is_added_or_credited_before_a_price_is_agreed(quote, drawn):
    for deed in (
        lambda: adding.add(drawn, words="A line", minor=1, taxed=True, key="a", by=None),
        lambda: adding.credit(drawn, words="A credit", minor=1, key="b", by=None),
        lambda: adding.write_off(drawn, words="Gone", key="c", by=None),
    ):
        with pytest.raises(money.CannotPay, match="Nothing is agreed yet"):
            deed()


def test_a_tip_pays_for_nothing_that_is_owed(agreed):
    tip = adding.take_tip(agreed, minor=2000, payer=agreed.customer, method="cash", key="t", by=None)
    assert tip.receipt_number == 1
    assert money.owing_of(agreed).paid == 0
    assert Posting.objects.balance(Account.TIPS) == -2000


def test_what_is_written_off_is_no_longer_open_and_can_be_taken_up_again(agreed):
    pay(agreed, 25038)
    gone = adding.write_off(agreed, words="She moved away", key="w", by=None)
    assert adding.write_off(agreed, words="She moved away", key="w", by=None) == gone
    assert (money.owing_of(agreed).balance, money.owing_of(agreed).written_off) == (0, 25038)
    giving_back.take_back(gone, by=None)
    assert money.owing_of(agreed).balance == 25038


def test_a_certificate_is_money_owed_until_it_pays_for_something(agreed):
    certificate = sell()
    assert Posting.objects.balance(Account.CERTIFICATES) == -15000
    assert Posting.objects.balance(Account.SALES) == -46800
    paid = pay(agreed, 10000, certificate=certificate)
    assert (paid.method, money.owing_of(agreed).paid) == ("gift certificate", 10000)
    assert Certificate.objects.with_left().get().left == 5000
    assert nothing_is_made_or_lost()


def test_a_certificate_never_pays_more_than_is_left_on_it(agreed):
    certificate = sell()
    with pytest.raises(money.CannotPay, match=r"has \$150.00 left"):
        pay(agreed, 15001, certificate=certificate)
    pay(agreed, 15000, certificate=certificate)
    with pytest.raises(money.CannotPay, match=r"has \$0.00 left"):
        pay(agreed, 1, key="again", certificate=certificate)


def test_what_a_certificate_paid_goes_back_onto_it(agreed):
    certificate = sell()
    paid = pay(agreed, 15000, certificate=certificate)
    back = giving_back.give_back(paid, minor=4000, method="cash", key="b", by=None)
    assert back.method == "gift certificate"
    assert Certificate.objects.with_left().get().left == 4000


def test_a_certificate_sold_before_these_books_is_owed_without_money_coming_in(shop):
    sell(method="before")
    assert Posting.objects.balance(Account.BANK) == 0
    assert Posting.objects.balance(Account.CERTIFICATES) == -15000


def test_a_certificate_sold_twice_by_one_form_is_one(shop):
    assert sell() == sell()
    assert Certificate.objects.count() == 1


def test_several_payers_share_to_the_cent(agreed):
    # 500.76 by three: 166.92 each; by 1 and 2: 166.92 and 333.84.
    uncle = Customer.objects.create(name="An uncle")
    Payer.objects.create(order=agreed, customer=uncle, share=2)
    pay(agreed, 20000)
    shares = money.shares_of(agreed, money.owing_of(agreed))
    assert [(each.share, each.paid, each.left) for each in shares] == [
        (16692, 20000, -3308),
        (33384, 0, 33384),
    ]


def test_the_christmas_quilt_with_a_certificate_a_bounce_and_storage(agreed):
    # Trade handbook: 469.73; 150 by certificate and 84.87 by card first, 78.29 paid, the second bounced.
    adding.credit(agreed, words="To the sum of the scenario", minor=50076 - 46973, key="x", by=None)
    pay(agreed, 15000, certificate=sell(method="before"))
    pay(agreed, 8487, key="card")
    pay(agreed, 7829, key="one")
    giving_back.bounced(pay(agreed, 7829, key="two"), by=None)
    assert money.owing_of(agreed).balance == 15657
    adding.add(agreed, words="Storage", minor=6000, taxed=False, key="s", by=None)
    assert money.owing_of(agreed).balance == 21657


def test_the_final_receipt_adds_up_with_all_that_came_after_the_price(agreed):
    from orders import papers

    pay(agreed, 25038)
    adding.credit(agreed, words="Came late", minor=1000, key="x", by=None)
    adding.take_tip(agreed, minor=2000, payer=agreed.customer, method="cash", key="t", by=None)
    told = papers.receipt(agreed, by=None).made_of
    assert [(each["words"], each["amount"]) for each in told["payments"]] == [
        ("Payment", "$250.38"),
        ("Came late", "$10.00"),
    ]
    assert told["balance"] == "$240.38"
