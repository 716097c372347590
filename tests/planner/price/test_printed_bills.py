"""Bills that makers have printed, and what is charged by the hour or at least."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from planner.layout.blocks import grid_quilt
from planner.price import USUAL, Line, Rule, by_hand, by_the_hour, lines, not_on
from planner.problems import BadInput
from planner.quilt import PER, Bag, Quilt
from planner.units import INCH, Money, Rate, Size


def usd(text: str) -> Money:
    return Money(int(Decimal(text) * 100), "USD")


def top(across: int, down: int) -> Quilt:
    """A plain top of one filler."""
    return grid_quilt(1, 1, Size(across * INCH, down * INCH), pieces=[None])


def billed(quilt: Quilt, per: str, rate: str, least: str | None = None) -> Line:
    rule = Rule("Quilting", per, Rate(Decimal(rate) * 100, "USD", per), least=usd(least) if least else None)
    (line,) = lines(quilt, Bag((), ()), [rule])
    return line


@pytest.mark.parametrize(
    ("across", "down", "rate", "least", "amount"),
    [
        # A maker's price page: 56 × 72 in at 2, 3 and 4 cents a square inch.
        (56, 72, "0.02", None, "80.64"),
        (56, 72, "0.03", None, "120.96"),
        (56, 72, "0.04", None, "161.28"),
        # A long-arm quilter's price page: 52 × 52 in at 2.5, 3 and 4 cents, 50 at least.
        (52, 52, "0.025", "50", "67.60"),
        (52, 52, "0.03", "50", "81.12"),
        (52, 52, "0.04", "50", "108.16"),
        # A shop's article on long-arm prices: 60 × 80 in at 2 cents.
        (60, 80, "0.02", None, "96.00"),
        # By hand: 30 × 40 in at 2.5 cents is 30.00, below the least of 50.
        (30, 40, "0.025", "50", "50.00"),
        (40, 50, "0.025", "50", "50.00"),
    ],
)
def test_quilting_by_the_area_agrees_with_printed_bills(across, down, rate, least, amount):
    assert billed(top(across, down), "in2", rate, least).amount == usd(amount)


@pytest.mark.parametrize(("rate", "amount"), [("0.15", "38.40"), ("0.30", "76.80")])
def test_binding_by_the_edge_agrees_with_a_printed_bill(rate, amount):
    # The same maker's page: 256 in of edge at 15 and 30 cents an inch.
    assert billed(top(56, 72), "in", rate).amount == usd(amount)


def test_a_line_at_the_least_says_so():
    assert billed(top(30, 40), "in2", "0.025", "50").words == "Quilting, at least"
    assert billed(top(52, 52), "in2", "0.025", "50").words == "Quilting"


def test_of_what_there_is_none_of_nothing_is_charged_not_even_the_least():
    rule = Rule("Border", "border", Rate(4500, "USD"), least=usd("50"))
    assert lines(top(30, 40), Bag((), ()), [rule]) == ()


@pytest.mark.parametrize("least", [usd("0"), usd("-1"), Money(50, "EUR")])
def test_a_least_that_makes_no_sense_is_refused(least):
    with pytest.raises(BadInput) as caught:
        Rule("Quilting", "in2", Rate(2, "USD", "in2"), least=least)
    assert caught.value.field == "least"


HOURLY = Rate(2500, "USD", "hour")


@pytest.mark.parametrize(
    ("minutes", "most", "amount"),
    [(90, None, "37.50"), (90, "40", "37.50"), (120, "40", "40.00"), (7, None, "2.92")],
)
def test_a_repair_is_charged_by_the_hour_up_to_its_most(minutes, most, amount):
    line = by_the_hour("Mending", minutes, HOURLY, most=usd(most) if most else None)
    assert line.amount == usd(amount)


def test_by_the_hour_needs_a_rate_per_hour():
    with pytest.raises(BadInput):
        by_the_hour("Mending", 60, replace(HOURLY, per="each"))


def test_the_usual_surcharges_are_data_and_each_can_be_on_a_price_list_or_a_line():
    assert all(each.least <= each.most for each in USUAL)
    for each in USUAL:
        if each.per is not None:
            assert each.per in PER or each.per.startswith("garment:")
            Rule(each.words, each.per, Rate(each.most * 100, "USD"), each.kind)
    assert {each.words for each in not_on(frozenset({"composite", "border"}))} == {
        "Second side of a shirt", "Frame strips", "Fleece", "Nylon or zip", "Pillow from what is left",
    }  # fmt: skip
    assert len(by_hand()) + len(not_on(frozenset())) == len(USUAL)
