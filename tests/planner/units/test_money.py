"""Money: whole minor units, exact rates, one rounding."""

from __future__ import annotations

from decimal import ROUND_DOWN, ROUND_HALF_EVEN, ROUND_HALF_UP, ROUND_UP, Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.problems import BadInput
from planner.units import (
    INCH,
    METRE,
    YARD,
    Money,
    Rate,
    currencies,
    parse_money,
    round_exactly,
    show_money,
    total,
)

# The decimal module's own rounding is the outside check; its names are those of IEEE 754 and Java.
OUTSIDE = {"half up": ROUND_HALF_UP, "half even": ROUND_HALF_EVEN, "up": ROUND_UP, "down": ROUND_DOWN}


@given(st.decimals(-(10**6), 10**6, places=4), st.sampled_from(sorted(OUTSIDE)))
def test_rounding_agrees_with_the_decimal_module(value, rounding):
    assert round_exactly(value, rounding) == int(value.quantize(Decimal(1), OUTSIDE[rounding]))


@pytest.mark.parametrize(
    ("rounding", "rounded"),
    [
        ("half up", (3, -3, 4, 2)),
        ("half even", (2, -2, 4, 2)),
        ("up", (3, -3, 4, 3)),
        ("down", (2, -2, 3, 2)),
    ],
)
def test_halves_go_where_the_rule_says(rounding, rounded):
    values = (Decimal("2.5"), Decimal("-2.5"), Decimal("3.5"), Decimal("2.4999"))
    assert tuple(round_exactly(value, rounding) for value in values) == rounded


@pytest.mark.parametrize("value", [2.5, float("nan")])
def test_a_float_is_never_rounded(value):
    with pytest.raises(BadInput, match="never a float"):
        round_exactly(value)


def test_an_unknown_rounding_is_refused():
    with pytest.raises(BadInput) as caught:
        round_exactly(Fraction(1, 2), "bankers")
    assert caught.value.field == "rounding"


@pytest.mark.parametrize("minor", [1.0, 0.1, Decimal("1"), True, "5", None])
def test_money_is_only_whole_minor_units(minor):
    with pytest.raises(BadInput) as caught:
        Money(minor, "USD")
    assert caught.value.field == "minor"


def test_money_in_no_currency_cannot_be_built():
    with pytest.raises(BadInput):
        Money(1, "QQQ")


def test_money_adds_subtracts_and_turns_round_exactly():
    assert Money(10, "USD") + Money(20, "USD") == Money(30, "USD")
    assert Money(10, "USD") - Money(20, "USD") == -Money(10, "USD")


@pytest.mark.parametrize(
    "mixing",
    [
        lambda: Money(1, "USD") + Money(1, "EUR"),
        lambda: Money(1, "USD") - Money(1, "EUR"),
        lambda: Money(1, "USD") < Money(2, "EUR"),
        lambda: Money(1, "USD") >= Money(2, "EUR"),
        lambda: total([Money(1, "USD"), Money(1, "EUR")], "USD"),
        lambda: total([Money(1, "USD")], "EUR"),
    ],
)
def test_two_currencies_are_never_reckoned_together(mixing):
    with pytest.raises(BadInput) as caught:
        mixing()
    assert caught.value.field == "currency"


def test_money_of_one_currency_is_compared_by_amount():
    assert Money(-5, "USD") < Money(1, "USD") <= Money(1, "USD") < Money(2, "USD")


def test_no_amounts_at_all_make_nothing():
    assert total([], "JPY") == Money(0, "JPY")


@given(st.lists(st.integers(-(10**15), 10**15)))
def test_a_total_is_the_exact_sum(minors):
    assert total((Money(each, "USD") for each in minors), "USD").minor == sum(minors)


@pytest.mark.parametrize("minor", [0.32, True, "0.32", None])
def test_a_rate_is_never_a_float(minor):
    with pytest.raises(BadInput) as caught:
        Rate(minor, "USD", "in2")
    assert caught.value.field == "minor"


@pytest.mark.parametrize(
    ("given_", "field"),
    [
        ((Decimal("NaN"), "USD"), "minor"),
        ((Decimal(1), "USD", "ell"), "per"),
        ((Decimal(1), "QQQ"), "currency"),
    ],
)
def test_a_senseless_rate_cannot_be_built(given_, field):
    with pytest.raises(BadInput) as caught:
        Rate(*given_)
    assert caught.value.field == field


@pytest.mark.parametrize(
    ("rate", "amount", "cents"),
    [
        (Rate(3600, "USD"), 12, 43200),
        (Rate(2400, "USD", "hour"), 90, 3600),
        (Rate(Decimal("0.32"), "USD", "in2"), 58 * 74 * INCH**2, 1373),  # 13.7344 USD
        (Rate(15, "USD", "in"), 256 * INCH, 3840),
        (Rate(1200, "USD", "yd"), 9 * YARD // 8, 1350),
        (Rate(990, "EUR", "m"), 3 * METRE // 2, 1485),
        (Rate(2000, "EUR", "m2"), METRE**2 // 2, 1000),
    ],
)
def test_a_rate_applies_to_counts_minutes_ticks_and_square_ticks(rate, amount, cents):
    assert rate.on(amount) == Money(cents, rate.currency)


@given(st.decimals(0, 100, places=4), st.integers(0, 10**12))
def test_a_rate_is_rounded_once_from_the_exact_product(minor, ticks):
    exact = Fraction(minor) * ticks / INCH
    assert abs(Rate(minor, "USD", "in").on(ticks).minor - exact) <= Fraction(1, 2)


def test_a_rate_is_not_applied_to_a_float():
    with pytest.raises(BadInput):
        Rate(100, "USD").on(1.5)


@given(st.integers(-(10**40), 10**40), st.sampled_from(currencies()))
def test_money_comes_back_from_its_words_unchanged(minor, currency):
    money = Money(minor, currency)
    words, shown = show_money(money).rsplit(" ", 1)
    assert shown == currency
    assert parse_money(words.replace(",", ""), currency) == money


@pytest.mark.parametrize(
    ("money", "words"),
    [
        (Money(46800, "USD"), "468.00 USD"),
        (Money(124227, "USD"), "1,242.27 USD"),
        (Money(-5, "USD"), "-0.05 USD"),
        (Money(468, "JPY"), "468 JPY"),
        (Money(1234567, "KWD"), "1,234.567 KWD"),
    ],
)
def test_money_is_shown_with_its_currencys_decimals(money, words):
    assert show_money(money) == words


@pytest.mark.parametrize(
    ("text", "currency"),
    [("0.001", "USD"), ("0.5", "JPY"), ("1.0001", "KWD"), ("100000000000000000000000000000.001", "USD")],
)
def test_an_amount_finer_than_the_currency_is_refused(text, currency):
    with pytest.raises(BadInput, match="finer"):
        parse_money(text, currency)


@pytest.mark.parametrize("text", ["", "abc", "1,000.00", "1e3", "NaN", "$5", "5 USD", "1.", ".5", 36.0, None])
def test_what_is_not_an_amount_is_refused(text):
    with pytest.raises(BadInput) as caught:
        parse_money(text, "USD")
    assert caught.value.field == "money"
