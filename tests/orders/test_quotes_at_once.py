"""Two at the counter at once: a yes against a newer quote, the same payment from two phones."""

from __future__ import annotations

import threading

import pytest
from django.db import connection

from orders.account import agreeing, money, quoting, told_together
from orders.account.sealing import verify_ledger
from orders.models import CannotAccept, Entry, Order, Quote

pytestmark = pytest.mark.django_db(transaction=True)


def at_once(*deeds):
    """Run deeds at the same moment, each with its own connection, and return what each came to."""
    start, outcomes = threading.Barrier(len(deeds)), [None] * len(deeds)

    def run(place, deed):
        start.wait()
        try:
            outcomes[place] = deed()
        except Exception as fault:
            outcomes[place] = fault
        finally:
            connection.close()

    threads = [threading.Thread(target=run, args=each) for each in enumerate(deeds)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return outcomes


def test_a_yes_and_a_newer_quote_at_the_same_moment_never_both_win(drawn, quote, shop, ada):
    quoting.add_line(drawn, words="Label", kind="labour", minor=1500, by=ada)
    said, issued = at_once(
        lambda: agreeing.accept(quote, said_by="An aunt of Ferncliff", how="page", by=None),
        lambda: quoting.issue(drawn, shop, by=ada),
    )
    assert isinstance(issued, Quote)
    quote.refresh_from_db()
    if said is None:
        assert (quote.standing(on=shop.today()), money.owing_of(drawn).charged) == ("accepted", 50076)
    else:
        assert isinstance(said, CannotAccept)
        assert (quote.standing(on=shop.today()), money.owing_of(drawn).charged) == ("replaced", 0)


def test_the_same_payment_from_two_phones_at_once_is_one(agreed):
    def pay():
        return money.take_payment(
            agreed, minor=50076, payer=agreed.customer, method="card", key="same", by=None
        )

    first, second = at_once(pay, pay)
    assert first == second
    assert Entry.objects.of_payments().count() == 1


def test_two_payments_at_once_never_take_more_than_is_owed(agreed):
    def pay(key):
        return lambda: money.take_payment(
            agreed, minor=40000, payer=agreed.customer, method="card", key=key, by=None
        )

    outcomes = at_once(pay("one"), pay("two"))
    assert sorted(type(each).__name__ for each in outcomes) == ["CannotPay", "Entry"]
    assert money.owing_of(agreed).balance == 10076


ROUNDS = 12


def two_repairs(aunt, ada, shop):
    """Return two repairs told together, and their quotes; the first has a line more since."""
    repairs = [
        Order.objects.open(title=f"Mended {place}", customer=aunt, by=ada, kind="repair") for place in (1, 2)
    ]
    for each in repairs:
        quoting.add_line(each, words="Mending", kind="labour", minor=10000, by=ada)
    first = quoting.issue(repairs[0], shop, by=ada, also=[repairs[1]])
    quoting.add_line(repairs[0], words="A new binding", kind="labour", minor=2000, by=ada)
    return repairs, [first, repairs[1].quotes.get()]


@pytest.mark.parametrize("anew", ["both anew", "one anew", "taken back"])
def test_a_yes_to_two_told_together_and_a_change_of_them_leave_no_half(aunt, ada, shop, anew):
    for number in range(ROUNDS):
        repairs, quotes = two_repairs(aunt, ada, shop)
        said, changed = at_once(
            lambda: agreeing.accept(quotes[number % 2], said_by=aunt.name, how="page", by=None),  # noqa: B023
            lambda: change(anew, repairs, quotes, shop=shop, by=ada),  # noqa: B023
        )
        assert not isinstance(changed, Exception), changed
        for each in quotes:
            each.refresh_from_db()
        standing = {each.accepted_at is not None for each in quotes}
        charged = [money.owing_of(each).charged for each in repairs]
        if said is None:
            assert (standing, charged) == ({True}, [10000, 10000])
        else:
            assert isinstance(said, CannotAccept), said
            assert str(said).endswith(".")
            assert (standing, charged) == ({False}, [0, 0])
            assert not any(each.stages.exists() for each in repairs)
    assert verify_ledger() == ()


def change(anew, repairs, quotes, *, shop, by):
    """Tell the price of both or of one anew, or take it back, while somebody says yes to it."""
    if anew == "taken back":
        return told_together.withdraw(quotes[0], by=by)
    also = [repairs[1]] if anew == "both anew" else []
    return quoting.issue(repairs[0], shop, by=by, also=also)


def test_a_yes_from_the_page_and_one_from_the_phone_at_once_are_one(aunt, ada, shop):
    for _ in range(ROUNDS):
        repairs, quotes = two_repairs(aunt, ada, shop)
        told = at_once(*[
            lambda each=each, how=how: agreeing.accept(each, said_by=aunt.name, how=how, by=None)
            for each, how in zip(quotes * 2, ("page", "phone", "text", "page"), strict=True)
        ])  # fmt: skip
        assert told == [None] * 4
        assert [each.entries.count() for each in repairs] == [1, 1]
        said = Quote.objects.filter(order__in=repairs).values_list("accepted_how", "accepted_by")
        assert len(set(said)) == 1
