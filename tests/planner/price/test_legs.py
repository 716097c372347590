"""Money moves between accounts, and none is made or lost on the way."""

from __future__ import annotations

import random

import pytest

from planner.price import Leg, balances, charging, crediting, giving_back, paying, turned
from planner.problems import BadInput
from tests.planner.price.accounts_walk import POSTINGS, Account


def test_generated_accounts_sum_to_zero_and_nothing_is_given_back_twice():
    written = refused = account = 0
    while written < POSTINGS:
        one = Account(random.Random(f"account {account}"))
        one.live(40)
        written, refused, account = written + len(one.legs), refused + one.refused, account + 1
    assert written >= POSTINGS
    assert refused > POSTINGS // 100


def test_a_price_and_its_tax_are_owed_apart():
    assert charging(46800, 3276) == (Leg("sales", "owed", 46800), Leg("tax", "owed", 3276))
    assert charging(100, 0) == (Leg("sales", "owed", 100),)


def test_more_than_is_open_is_not_taken():
    assert paying(100, "cash", open_=100) == (Leg("owed", "cash", 100),)
    with pytest.raises(BadInput, match="more than is open"):
        paying(101, "cash", open_=100)


def test_money_goes_back_out_of_where_it_went_and_never_more_than_came():
    paid = Leg("owed", "certificates", 15000)
    assert giving_back(5000, paid, back=10000) == (Leg("certificates", "owed", 5000),)
    with pytest.raises(BadInput, match="more than is left"):
        giving_back(5001, paid, back=10000)


def test_a_credit_takes_its_tax_along_to_the_cent():
    # 20.00 of a bill of 468.00 and 32.76 tax: 20 × 32.76 ÷ 500.76 = 1.308… by hand.
    credited = crediting(2000, net=46800, tax=3276, currency="USD")
    assert credited == (Leg("owed", "credits", 1869), Leg("owed", "tax credit", 131))


def test_what_is_undone_leaves_nothing_behind():
    legs = (*charging(46800, 3276), *paying(25038, "bank", open_=50076))
    assert not any(balances([*legs, *turned(legs)]).values())


@pytest.mark.parametrize(
    ("leg", "field"),
    [
        (("owed", "cash", 0), "minor"),
        (("owed", "cash", -5), "minor"),
        (("owed", "cash", 1.5), "minor"),
        (("owed", "purse", 5), "into"),
        (("pocket", "cash", 5), "out_of"),
        (("cash", "cash", 5), "into"),
    ],
)
def test_a_leg_that_makes_no_sense_cannot_be_built(leg, field):
    with pytest.raises(BadInput) as caught:
        Leg(*leg)
    assert caught.value.field == field
