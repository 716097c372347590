"""Sales tax: one rounding of the exact product, per invoice or per line.

The rule is that of the Streamlined Sales and Use Tax Agreement, section 324 (alike in R.I. Gen. Laws
44-18.1-25, N.D.C.C. 57-39.4-25, K.S.A. 79-3676 and M.G.L. ch. 64I s. 5): carry to the third decimal,
round up when that is greater than 4; the seller may reckon per item or per invoice.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import ROUND_DOWN, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.price import Costs, Line, Tax, Terms, ToldApart, price, tax, told_apart
from planner.problems import BadInput
from planner.units import Money, Rate, decimals

NOTHING = Money(0, "USD")
COSTS = Costs(NOTHING, NOTHING, NOTHING, 0, Rate(0, "USD", "hour"), Rate(0, "USD", "hour"))
SIX, SEVEN = Decimal("0.06"), Decimal("0.07")


def usd(text: str) -> Money:
    """Dollars written with cents."""
    return Money(int(Decimal(text) * 100), "USD")


def bill(*amounts: str, kind: str = "labour") -> tuple[Line, ...]:
    """A line for each amount in dollars."""
    return tuple(Line.of("Block", usd(each), kind=kind) for each in amounts)


@pytest.mark.parametrize(
    ("amount", "rate", "expected"),
    [
        ("12.34", "0.1", "1.23"),  # 1.234
        ("12.35", "0.1", "1.24"),  # 1.235
        ("1.25", "0.1", "0.13"),  # 0.125, where half-even gives 0.12
        ("6.49", "0.01", "0.06"),  # 0.0649: rounding twice would give 0.065 and then 0.07
        ("0.35", "0.06", "0.02"),  # 0.021
        ("0.09", "0.06", "0.01"),  # 0.0054
        ("474.00", "0.07", "33.18"),  # trade handbook S1
        ("1161.00", "0.07", "81.27"),  # trade handbook S7
    ],
)
def test_tax_is_rounded_once_half_up(amount, rate, expected):
    assert tax(usd(amount), Decimal(rate)) == usd(expected)


@given(st.integers(0, 10**9), st.decimals(0, 1, places=5))
def test_tax_follows_the_statutes_words_third_decimal_greater_than_four(cents, rate):
    third = (Decimal(cents) / 100 * rate).quantize(Decimal("0.001"), ROUND_DOWN)
    up = int(third * 1000) % 10 > 4
    assert tax(Money(cents, "USD"), rate).minor == int(third * 100) + up


def test_tax_on_a_refund_is_the_tax_that_was_charged():
    assert tax(-usd("12.35"), Decimal("0.1")) == -tax(usd("12.35"), Decimal("0.1"))


def test_another_rounding_may_be_set():
    assert tax(usd("1.25"), Decimal("0.1"), rounding="half even") == usd("0.12")
    assert tax(usd("1.21"), Decimal("0.1"), rounding="up") == usd("0.13")
    assert tax(usd("1.29"), Decimal("0.1"), rounding="down") == usd("0.12")


def test_tax_is_in_whole_minor_units_of_its_currency():
    assert tax(Money(1005, "JPY"), Decimal("0.1")) == Money(101, "JPY")
    assert tax(Money(1234, "KWD"), Decimal("0.05")) == Money(62, "KWD")


@pytest.mark.parametrize(
    ("amounts", "per_line", "per_invoice"),
    [(["0.35"] * 3, "0.06", "0.06"), (["0.09"] * 10, "0.10", "0.05"), (["0.05"] * 3, "0.00", "0.01")],
)
def test_tax_per_line_and_per_invoice_may_differ_by_cents(amounts, per_line, per_invoice):
    lines, taxes = bill(*amounts), (Tax(SIX),)
    assert price(lines, Terms(taxes, tax_per="line"), COSTS).tax == usd(per_line)
    assert price(lines, Terms(taxes, tax_per="invoice"), COSTS).tax == usd(per_invoice)


def test_a_tax_rounded_line_by_line_says_so_where_that_makes_a_difference():
    lines = bill("36.50", "36.50")  # 2.555 each: 2.56 twice is 5.12, and 73.00 at once is 5.11
    by_line = price(lines, Terms((Tax(SEVEN, words="Sales tax"),), tax_per="line"), COSTS)
    at_once = price(lines, Terms((Tax(SEVEN, words="Sales tax"),), tax_per="invoice"), COSTS)
    assert [(each.words, each.amount) for each in by_line.taxes] == [
        ("Sales tax, rounded line by line", usd("5.12"))
    ]
    assert [(each.words, each.amount) for each in at_once.taxes] == [("Sales tax", usd("5.11"))]
    same = price(bill("36.00"), Terms((Tax(SEVEN, words="Sales tax"),), tax_per="line"), COSTS)
    assert same.taxes[0].words == "Sales tax"


def test_an_example_tells_the_two_ways_apart_by_the_shops_own_rate():
    found = told_apart(Tax(SEVEN), usd("36.00"))
    assert found == ToldApart(usd("36.50"), 2, usd("2.56"), usd("5.12"), usd("5.11"))
    assert found.sum == usd("73.00")


@pytest.mark.parametrize("currency", ["USD", "JPY", "KWD"])
@pytest.mark.parametrize("rate", ["0.01", "0.05", "0.07", "0.0725", "0.08875", "0.1", "0.19", "0.2", "0.25"])
@pytest.mark.parametrize("inclusive", [False, True])
def test_every_usual_rate_has_an_example_that_is_true(currency, rate, inclusive):
    due = Tax(Decimal(rate), inclusive=inclusive)
    found = told_apart(due, Money(36 * 10 ** decimals(currency), currency))
    lines = (Line.of("Block", found.amount),) * found.count
    none, an_hour = Money(0, currency), Rate(0, currency, "hour")
    costs = Costs(none, none, none, 0, an_hour, an_hour)
    sums = {way: price(lines, Terms((due,), tax_per=way), costs).tax for way in ("line", "invoice")}
    assert sums == {"line": found.by_line, "invoice": found.at_once}
    assert found.of_one.minor * found.count == found.by_line.minor != found.at_once.minor


def test_no_example_is_made_up_where_both_ways_always_agree():
    assert told_apart(Tax(Decimal(0)), usd("36.00")) is None
    assert told_apart(Tax(Decimal(1)), usd("36.00")) is None


def test_a_tax_is_charged_only_on_its_kinds():
    lines = bill("100.00") + bill("50.00", kind="materials") + bill("12.00", kind="shipping")
    labour_only = Tax(SEVEN, frozenset({"labour"}))
    goods = Tax(Decimal("0.02"), frozenset({"materials", "shipping"}), words="City")
    pricing = price(lines, Terms((labour_only, goods)), COSTS)
    assert [each.amount for each in pricing.taxes] == [usd("7.00"), usd("1.24")]
    assert pricing.total == usd("170.24")


def test_a_credit_lowers_what_is_taxed():
    pricing = price(bill("100.00") + bill("-20.00", kind="credit"), Terms((Tax(SEVEN),)), COSTS)
    assert (pricing.net, pricing.tax) == (usd("80.00"), usd("5.60"))


def test_a_tax_held_in_the_price_is_taken_out_of_it():
    # The tax fraction of a price that holds 20 % is one sixth (HMRC VAT guide, notice 700, from memory).
    pricing = price(bill("468.00"), Terms((Tax(Decimal("0.2"), inclusive=True),)), COSTS)
    assert (pricing.net, pricing.tax, pricing.total) == (usd("390.00"), usd("78.00"), usd("468.00"))


def test_a_tax_is_held_only_in_the_prices_of_its_kinds():
    held = Tax(Decimal("0.2"), frozenset({"materials"}), inclusive=True)
    lines = bill("100.00") + bill("60.00", kind="materials")
    pricing = price(lines, Terms((held, Tax(Decimal("0.1"), frozenset({"labour"})))), COSTS)
    assert [each.amount for each in pricing.taxes] == [usd("10.00"), usd("10.00")]
    assert (pricing.net, pricing.total) == (usd("150.00"), usd("170.00"))


def test_taxes_held_in_the_price_and_on_top_are_not_charged_on_one_another():
    held, on_top = Tax(Decimal("0.1"), inclusive=True), Tax(Decimal("0.05"), words="City")
    pricing = price(bill("110.00"), Terms((held, on_top)), COSTS)
    assert [each.amount for each in pricing.taxes] == [usd("10.00"), usd("5.00")]
    assert (pricing.net, pricing.total) == (usd("100.00"), usd("115.00"))


def test_state_and_local_tax_rounded_together_are_one_tax_of_their_sum():
    twentieth, tenth = Decimal("0.05"), Decimal("0.10")
    apart = price(bill("0.30"), Terms((Tax(twentieth), Tax(twentieth, words="City"))), COSTS)
    together = price(bill("0.30"), Terms((Tax(tenth, words="State and city"),)), COSTS)
    assert (apart.tax, together.tax) == (usd("0.04"), usd("0.03"))


def test_no_taxes_at_all_add_nothing():
    pricing = price(bill("468.00"), Terms(), COSTS)
    assert (pricing.tax, pricing.taxes, pricing.total) == (NOTHING, (), usd("468.00"))


@pytest.mark.parametrize(
    ("given_", "field"),
    [
        ({"rate": 0.07}, "rate"),
        ({"rate": Decimal(7)}, "rate"),
        ({"rate": Decimal("-0.07")}, "rate"),
        ({"rate": Decimal("NaN")}, "rate"),
        ({"rate": SEVEN, "kinds": frozenset({"labor"})}, "kinds"),
        ({"rate": SEVEN, "words": " "}, "words"),
    ],
)
def test_a_tax_that_makes_no_sense_cannot_be_built(given_, field):
    with pytest.raises(BadInput) as caught:
        Tax(**given_)
    assert caught.value.field == field


@pytest.mark.parametrize("rate", [0.07, Decimal(7)])
def test_tax_at_no_sensible_rate_is_refused(rate):
    with pytest.raises(BadInput):
        tax(usd("1.00"), rate)


def test_how_tax_is_reckoned_must_be_a_known_way():
    for wrong in ({"tax_per": "item"}, {"rounding": "bankers"}):
        with pytest.raises(BadInput):
            replace(Terms(), **wrong)
