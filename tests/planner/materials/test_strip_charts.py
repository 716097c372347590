"""Strips and pieces per cloth, against printed charts, their slips among them."""

from __future__ import annotations

import pytest

from planner.materials import CutPiece, CutPlan, check_cuts, parts, plan_cuts
from planner.materials.allowances import Allowances
from planner.problems import Impossible
from planner.units import YARD

from .samples import EIGHTH, ONCE, QUARTER, cotton, grid, inch, remnant, sash, squares, yards


def planned(cloth, *items) -> CutPlan:
    plan = plan_cuts(cloth, items, limit=ONCE)
    assert isinstance(plan, CutPlan)
    assert check_cuts(cloth, items, plan) == ()
    return plan


def gives_exactly(cloth, side, count) -> bool:
    """Whether that many squares come out of the cloth, and provably not one more."""
    enough = plan_cuts(cloth, [squares(side, count)], limit=ONCE)
    one_more = plan_cuts(cloth, [squares(side, count + 1)], limit=ONCE)
    return isinstance(enough, CutPlan) and isinstance(one_more, Impossible)


def test_sashing_strips_of_a_12_block_top_come_out_of_eleven_strips_and_1_1_8_yd():
    # "Lesson 11, math for quilt sashings and borders": 3 x 4 blocks of 12 1/2 cut, sashing 3 finished
    # all round, usable 42: 31 sashes, 3 a strip, 11 strips of 3 1/2, 38 1/2 in, 1 1/8 yd
    items = parts(grid(3, 4, 12, sashing=sash(3)), allowances=Allowances())["sashing"]
    plan = planned(cotton(42), *items)
    assert sum(item.count for item in items) == 31
    assert max(len(strip.columns) for strip in plan.strips) == 3
    assert len(plan.strips) == 11
    assert plan.used == inch("38 1/2")
    assert plan.buy == plan.bound == yards("1 1/8")


def test_100_squares_of_3_1_2_come_out_of_nine_strips_of_12():
    # harriger.com quilt-math page, usable 44
    plan = planned(cotton(44), squares("3 1/2", 100))
    assert len(plan.strips) == 9
    assert len(plan.strips[0].columns) == 12


def test_63_squares_of_9_1_2_take_152_in():
    # quilting forum, Aug 2013, usable 42: 4 a strip, 16 strips, 152 in, 4.222 yd
    plan = planned(cotton(42), squares("9 1/2", 63))
    assert len(plan.strips) == 16
    assert plan.used == inch(152)
    assert plan.buy == yards("4 1/4")
    assert plan.proved


def test_a_yard_gives_30_sashes_and_never_the_31_that_the_maker_needed():
    # chicagonow quilting column, Oct 2013: pieces 12 1/2 x 3 1/2, usable 42, one yard: 10 strips of 3
    def sashes(count):
        return CutPiece("sash", inch("12 1/2"), inch("3 1/2"), count)

    plan = planned(remnant(42, 36), sashes(30))
    assert len(plan.strips) == 10
    assert isinstance(plan_cuts(remnant(42, 36), [sashes(31)], limit=ONCE), Impossible)


# quilterscache math charts (M. Hohn, June 2002), squares from 1 yd; the numbers are for 44 in
FROM_A_YARD_OF_44 = {
    "2": 396, "2 1/2": 238, "3": 168, "3 1/2": 120, "4": 99, "4 1/2": 72, "5": 56, "5 1/2": 48,
    "6": 42, "6 1/2": 30, "8": 20, "9": 16, "10": 12, "12": 9, "12 1/2": 6,
}  # fmt: skip


@pytest.mark.parametrize(("side", "count"), FROM_A_YARD_OF_44.items())
def test_a_yard_of_44_gives_the_squares_of_the_chart(side, count):
    assert gives_exactly(remnant(44, 36), side, count)


# the same chart's heading says 42 x 36: a slip, since at 42 these come out instead
AT_42 = {"2": 378, "2 1/2": 224, "4": 90, "5 1/2": 42}


@pytest.mark.parametrize(("side", "count"), AT_42.items())
def test_the_charts_heading_of_42_is_a_slip(side, count):
    assert gives_exactly(remnant(42, 36), side, count)
    assert not gives_exactly(remnant(42, 36), side, FROM_A_YARD_OF_44[side])


@pytest.mark.parametrize("usable", [42, 44])
def test_a_yard_gives_30_squares_of_7_in_where_the_chart_prints_35(usable):
    assert gives_exactly(remnant(usable, 36), "7", 30)


# quilterscache math charts, squares from an 18 x 22 quarter; another site prints 15 for 5 in, wrong
FROM_A_FAT_QUARTER = {
    "2": 99, "2 1/2": 56, "3": 42, "3 1/2": 30, "4": 20,
    "4 1/2": 16, "5": 12, "5 1/2": 12, "6": 9, "6 1/2": 6,
}  # fmt: skip


@pytest.mark.parametrize(("side", "count"), FROM_A_FAT_QUARTER.items())
def test_an_18_by_22_quarter_gives_the_squares_of_the_chart(side, count):
    assert gives_exactly(remnant(22, 18), side, count)
    assert gives_exactly(remnant(18, 22), side, count)


# sylviasquiltdepot cutting chart, 1 yd of 42 to 44 washed
@pytest.mark.parametrize(("side", "count"), {"5": 56, "6 1/2": 30, "8": 20, "10": 12}.items())
@pytest.mark.parametrize("usable", [42, 44])
def test_a_washed_yard_gives_the_squares_of_the_chart(usable, side, count):
    assert gives_exactly(remnant(usable, 36), side, count)


def test_twenty_15_in_squares_take_one_across_a_roll_under_30_wide():
    # Jenny's Sewing Studio class sheet: about 8 1/2 yd, exactly 300 in
    plan = planned(cotton("29 3/4", step=QUARTER), squares("15", 20))
    assert plan.used == inch(300)
    assert plan.buy == yards("8 1/2")


def test_twenty_five_14_in_squares_from_a_20_in_roll_are_10_whole_yards():
    # nanabluequilts, July 2013: 10 yd, exactly 350 in
    plan = planned(cotton(20, step=YARD), squares("14", 25))
    assert plan.used == inch(350)
    assert plan.buy == yards(10)


def test_twelve_yards_of_a_20_in_roll_are_24_pieces_of_18_by_20():
    # pennyformythoughts blog, March 2017: 2 shirts a yard
    plan = planned(cotton(20), CutPiece("shirt", inch(20), inch(18), 24))
    assert plan.buy == plan.used == yards(12)


def test_a_plan_that_must_buy_goes_to_the_next_step():
    assert planned(cotton(40), squares("5", 8)).buy == 2 * EIGHTH
    assert planned(cotton(40, step=QUARTER), squares("5", 8)).buy == QUARTER
