"""Cloth bought by the piece, against squares from an 18 × 22 quarter (quilterscache math charts, 2002)."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.materials import CutPlan, PieceOption, check_cuts, fewest_pieces
from planner.problems import Impossible, Limit
from planner.units import Money, Size

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
