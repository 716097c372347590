"""Two at the counter at once: a yes against a newer quote, the same payment from two phones."""

from __future__ import annotations

import threading

import pytest
from django.db import connection

from orders.account import agreeing, money, quoting
from orders.models import CannotAccept, Entry, Quote

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
