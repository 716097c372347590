"""Some give a set amount, the others share the rest: exact to the cent, never over the total.

Largest remainder (A. Hamilton, 1792) for the rest; that a set amount comes off first is common practice.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.price import Portion, parts_in_turn, portions_in_turn, split_in_turn
from planner.problems import BadInput
from planner.units import Money

CLUB = Portion(set_amount=20000)
sums = st.lists(st.integers(0, 10**6), min_size=1, max_size=4)
others = st.lists(
    st.one_of(
        st.builds(Portion, weight=st.integers(1, 9)),
        st.builds(Portion, set_amount=st.integers(1, 10**6)),
    ),
    max_size=4,
)


def dollars(*minor: int) -> list[Money]:
    return [Money(each, "USD") for each in minor]


def minors(parts):
    return [each.minor for each in parts]


def test_the_club_gives_200_and_two_share_the_rest():
    # 878.47 (trade handbook, S4) less 200.00 is 678.47: 339.24 and 339.23.
    (paid,) = portions_in_turn(dollars(87847), (CLUB, Portion(), Portion()))
    assert minors(paid) == [20000, 33924, 33923]


def test_who_gives_more_than_the_price_pays_the_price_and_the_rest_nothing():
    (paid,) = portions_in_turn(dollars(15000), (Portion(), CLUB, Portion(set_amount=5000)))
    assert minors(paid) == [0, 15000, 0]


def test_two_set_amounts_over_the_price_come_off_in_their_order():
    (paid,) = portions_in_turn(dollars(25000), (CLUB, Portion(set_amount=10000), Portion()))
    assert minors(paid) == [20000, 5000, 0]


def test_a_set_amount_is_given_to_each_of_the_quilts_told_together():
    both = portions_in_turn(dollars(81855, 81855), (CLUB, Portion(), Portion()))
    assert [minors(each) for each in both] == [[20000, 30928, 30927], [20000, 30927, 30928]]


def test_without_set_amounts_it_is_divided_as_before():
    totals = dollars(81855, 81855, 10)
    assert portions_in_turn(totals, (Portion(2), Portion(1))) == split_in_turn(totals, (2, 1))
    assert parts_in_turn(totals, (Portion(2), Portion(1))) == split_in_turn(totals, (2, 1))


def test_a_set_amount_is_spread_over_the_deposit_and_what_is_due_later():
    # 500.76 as 250.38, 125.19, 125.19; of the club's 200.00 that is 100.00, 50.00 and 50.00.
    parts = parts_in_turn(dollars(25038, 12519, 12519), (CLUB, Portion()))
    assert [minors(each) for each in parts] == [[10000, 15038], [5000, 7519], [5000, 7519]]


@given(st.integers(0, 10**6), others, st.integers(1, 9))
def test_a_total_is_paid_to_the_cent_and_nobody_pays_below_nothing(total, portions, weight):
    portions = [*portions, Portion(weight)]
    (paid,) = portions_in_turn(dollars(total), portions)
    assert sum(minors(paid)) == total
    for portion, part in zip(portions, minors(paid), strict=True):
        assert 0 <= part <= (portion.set_amount or total)


@given(sums, others, st.integers(1, 9))
def test_of_several_totals_each_is_paid_to_the_cent_and_no_set_amount_is_exceeded(totals, portions, weight):
    portions = [*portions, Portion(weight)]
    for total, paid in zip(totals, portions_in_turn(dollars(*totals), portions), strict=True):
        assert sum(minors(paid)) == total
        given_ = [(each, part) for each, part in zip(portions, minors(paid), strict=True) if each.set_amount]
        assert all(0 <= part <= each.set_amount for each, part in given_)


@given(sums, others, st.integers(1, 9))
def test_what_is_due_by_when_adds_up_to_each_part_and_to_each_portion(parts, portions, weight):
    portions = [*portions, Portion(weight)]
    due = parts_in_turn(dollars(*parts), portions)
    assert [sum(minors(each)) for each in due] == parts
    (whole,) = portions_in_turn(dollars(sum(parts)), portions)
    assert [sum(column) for column in zip(*map(minors, due), strict=True)] == minors(whole)


def test_somebody_shares_what_the_set_amounts_leave():
    with pytest.raises(BadInput, match="at least one must pay a share"):
        portions_in_turn(dollars(30000), (CLUB, Portion(weight=0)))


@pytest.mark.parametrize(("said", "field"), [({"weight": -1}, "weight"), ({"set_amount": -1}, "set_amount")])
def test_a_portion_below_nothing_cannot_be_built(said, field):
    with pytest.raises(BadInput) as caught:
        Portion(**said)
    assert caught.value.field == field
