"""Cloth bought by the piece, against squares from an 18 × 22 quarter (quilterscache math charts, 2002)."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.materials import (
    CutPlan,
    PieceOption,
    check_cuts,
    fewest_pieces,
    pieces_for_less,
    plan_cuts,
    quarter_of,
)
from planner.problems import Impossible, Limit
from planner.units import METRE, YARD, Money, Rate, Size

from .samples import ONCE, cotton, inch, remnant, ribbon, size, squares

QUARTER = size(22, 18)
EACH = Money(350, "USD")
CHART = {"2": 99, "2 1/2": 56, "3": 42, "3 1/2": 30, "4": 20, "4 1/2": 16, "5": 12, "6": 9, "6 1/2": 6}


def bought(side: str, count: int, *, cloth=None, limit: Limit = ONCE) -> PieceOption:
    cloth = cloth or cotton(22)
    found = fewest_pieces(cloth, [squares(side, count)], QUARTER, each=EACH, limit=limit)
    assert isinstance(found, PieceOption)
    return found


@pytest.mark.parametrize(("side", "count"), CHART.items())
def test_a_quarter_gives_the_squares_of_the_chart_and_one_more_takes_another(side, count):
    one, two = bought(side, count), bought(side, count + 1)
    assert (one.count, one.proved, one.cost) == (1, True, EACH)
    assert (two.count, two.cost.minor) == (2, 700)


def test_the_five_in_squares_are_12_where_another_chart_prints_15():
    assert bought("5", 15).count == 2


def test_the_plan_passes_the_check_and_no_strip_goes_from_one_piece_into_another():
    found = bought("4", 50)
    owned = replace(cotton(22), price=None, on_hand=(QUARTER,) * found.count)
    assert isinstance(found.plan, CutPlan)
    assert check_cuts(owned, [squares("4", 50)], found.plan) == ()
    assert {strip.source for strip in found.plan.strips} == set(range(found.count))


def test_what_is_on_hand_is_cut_before_a_quarter_is_bought():
    cloth = replace(cotton(22), on_hand=remnant(22, 18).on_hand)
    assert bought("4", 20, cloth=cloth).count == 0
    assert bought("4", 40, cloth=cloth).count == 1


def test_a_part_longer_than_a_quarter_is_impossible_and_says_so():
    found = fewest_pieces(cotton(22), [squares("23", 1)], QUARTER, each=EACH, limit=ONCE)
    assert isinstance(found, Impossible)
    assert "bolt" in found.problems[0].change


def test_a_long_strip_is_joined_out_of_several_quarters():
    binding = ribbon("2 1/2", 200)
    found = fewest_pieces(cotton(22), [binding], QUARTER, each=EACH, limit=Limit(effort=40))
    assert isinstance(found, PieceOption)
    # seven strips of 22 by 2 1/2 in a quarter; ten give 22 + 9 * 19 1/2 = 197 1/2, so eleven are needed
    assert found.count == 2
    assert len(found.plan.strips) == 11
    assert Size(inch(22), inch(18)) == QUARTER


THREE = Money(300, "USD")


def bolt(**change):
    """Forty inches usable, 12.00 a yard, by the eighth."""
    return replace(cotton(40), step=YARD // 8, price=Rate(1200, "USD", "yd"), **change)


def for_less(count, cloth, than):
    piece = quarter_of(cloth.usable, unit="in")
    squares_of_five = [squares("5", count)]
    return pieces_for_less(cloth, squares_of_five, piece, each=THREE, than=Money(than, "USD"), limit=ONCE)


@pytest.mark.parametrize(("count", "yards", "quarters"), [(12, 450, 1), (16, 450, None), (24, 600, None)])
def test_quarters_are_named_where_they_cost_less_than_the_yardage(count, yards, quarters):
    """By hand: 8 squares of 5 in a strip, so 12 and 16 take ⅜ yd, 4.50, and 24 take ½ yd (15 in), 6.00.

    20 × 18 gives 4 × 3 = 12 squares: one at 3.00 for 12; two at 6.00 for 16, and for 24, which is no less.
    """
    off_the_bolt = plan_cuts(bolt(), [squares("5", count)], limit=ONCE)
    assert off_the_bolt.cost.minor == yards
    found = for_less(count, bolt(), yards)
    assert (found.count if isinstance(found, PieceOption) else None) == quarters


def test_what_is_washed_and_squared_gives_less_from_a_quarter_too():
    """By hand: 18 in less 3 % is 17.46; less 2 in to square 15.46, three rows of 5; less 3 in, two rows."""
    assert for_less(12, bolt(shrinkage=30, squaring=inch(2)), 450).count == 1
    assert isinstance(for_less(12, bolt(shrinkage=30, squaring=inch(3)), 450), Impossible)


def test_a_quarter_is_no_wider_than_half_of_the_cloth_and_metric_ones_are_metric():
    assert quarter_of(inch(42), unit="in") == size(20, 18)
    assert quarter_of(inch(36), unit="in") == size(18, 18)
    assert quarter_of(METRE * 107 // 100, unit="cm") == Size(METRE // 2, METRE // 2)
