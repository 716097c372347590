"""One price told over several quilts: the cents come out as one sum would. Figures: trade handbook, S3."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.price import Costs, Line, Tax, Terms, price, split, split_in_turn, told_together
from planner.problems import BadInput
from planner.units import Money, Rate

amounts = st.lists(st.integers(0, 10**7), min_size=1, max_size=5)


def dollars(minor: int) -> Money:
    return Money(minor, "USD")


def priced(minor: int, *, currency: str = "USD"):
    none, an_hour = Money(0, currency), Rate(Decimal(0), currency, "hour")
    terms = Terms(taxes=(Tax(Decimal("0.07")),), deposit=Decimal("0.5"))
    costs = Costs(none, none, none, 0, an_hour, an_hour)
    return price([Line.of("Quilt", Money(minor, currency))], terms, costs)


def minors(parts):
    return [each.minor for each in parts]


def test_two_quilts_of_765_have_deposits_that_add_up_to_half_of_both():
    """S3: 818.55 each, together 1,637.10; a deposit of 409.28 for each would be a cent too much."""
    both = told_together([priced(76500), priced(76500)], deposit=Decimal("0.5"), instalments=1)
    assert [each.total.minor for each in both] == [81855, 81855]
    assert [each.deposit.minor for each in both] == [40928, 40927]
    assert sum(each.deposit.minor for each in both) == 81855


def test_two_who_pay_half_of_each_pay_half_of_both():
    """S3: each grown child pays 818.55 of 1,637.10, though no half of 818.55 is whole cents."""
    shares = split_in_turn([dollars(81855), dollars(81855)], (1, 1))
    assert [minors(each) for each in shares] == [[40928, 40927], [40927, 40928]]


def test_parts_of_the_rest_add_up_to_the_parts_of_one_sum():
    both = told_together([priced(76500), priced(76500)], deposit=Decimal("0.5"), instalments=3)
    assert [sum(parts) for parts in zip(*(minors(each.instalments) for each in both), strict=True)] == [
        27285, 27285, 27285
    ]  # fmt: skip


@settings(max_examples=300)
@given(amounts, st.lists(st.integers(1, 9), min_size=1, max_size=4))
def test_each_total_is_divided_exactly_and_so_is_their_sum(totals, weights):
    parts = split_in_turn([dollars(each) for each in totals], weights)
    assert [sum(minors(each)) for each in parts] == totals
    assert [sum(column) for column in zip(*(minors(each) for each in parts), strict=True)] == minors(
        split(dollars(sum(totals)), weights)
    )


@settings(max_examples=200)
@given(amounts, st.decimals(0, 1, places=2), st.integers(1, 6))
def test_no_deposit_or_part_is_below_nothing_and_all_add_up(totals, deposit, instalments):
    made = told_together([priced(each) for each in totals], deposit=deposit, instalments=instalments)
    for each in made:
        assert 0 <= each.deposit.minor <= each.total.minor
        assert all(part.minor >= 0 for part in each.instalments)
        assert each.deposit.minor + sum(minors(each.instalments)) == each.total.minor


def test_prices_in_two_currencies_are_not_told_together():
    with pytest.raises(BadInput, match="one currency"):
        told_together([priced(100), priced(100, currency="EUR")], deposit=Decimal(0), instalments=1)
