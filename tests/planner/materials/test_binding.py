"""Binding strips and bias squares, against printed worked examples."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.materials import CutPlan, bias_square, binding_strips, check_cuts, plan_cuts
from planner.problems import BadInput
from planner.units import INCH

from .samples import ONCE, QUARTER, cotton, inch, ribbon, yards

# perimeter, extra, cut, usable, strips with joins left out as printed, strips with joins counted
PRINTED = {
    # Missouri quilt shop blog, "How to figure yardage for quilt binding": 66 x 58, 268 / 40 = 6.7
    "66 x 58": (248, 20, "2 1/2", 40, 7, 8),
    # quiltsbyjen, technique Tuesday: 63 1/2 x 42 3/4, 212 1/2 / 40 = 5.31
    "63 1/2 x 42 3/4": ("212 1/2", 0, "2 1/4", 40, 6, 6),
    # onceuponaquilt tips: 78 x 56, 276 / 40 = 6.9
    "78 x 56": (268, 8, "2", 40, 7, 8),
    # sylviasquiltdepot: 46 x 46, 184 / 40 = 4.6
    "46 x 46": (184, 0, "2 1/2", 40, 5, 5),
}


@pytest.mark.parametrize("name", PRINTED)
def test_printed_strip_counts_come_out_with_joins_left_out(name):
    perimeter, extra, cut, usable, printed, _ = PRINTED[name]
    strips = binding_strips(inch(perimeter), cut=inch(cut), extra=inch(extra), usable=inch(usable), join=0)
    assert (strips.count, strips.length) == (printed, printed * inch(cut))


@pytest.mark.parametrize("name", PRINTED)
def test_counting_the_joins_takes_a_strip_more_where_the_chart_was_short(name):
    perimeter, extra, cut, usable, _, counted = PRINTED[name]
    strips = binding_strips(inch(perimeter), cut=inch(cut), extra=inch(extra), usable=inch(usable))
    assert strips.count == counted


@pytest.mark.parametrize("name", PRINTED)
@pytest.mark.parametrize("join", [0, None])
def test_a_cut_plan_of_the_same_ribbon_takes_as_many_strips(name, join):
    perimeter, extra, cut, usable, printed, counted = PRINTED[name]
    items = [ribbon(cut, inch_text(perimeter, extra), join=join)]
    plan = plan_cuts(cotton(usable), items, limit=ONCE)
    assert isinstance(plan, CutPlan)
    assert check_cuts(cotton(usable), items, plan) == ()
    assert len(plan.strips) == (printed if join == 0 else counted)
    assert plan.proved


def inch_text(perimeter, extra) -> str:
    """A length in inches typed as a decimal."""
    return str((inch(perimeter) + inch(extra)) / INCH)


def test_two_inches_lost_a_strip_make_six_strips_for_50_by_60():
    # castillejacotton, June 2013: 220 / (40 - 2) = 5.79
    assert binding_strips(inch(220), cut=inch("2 1/2"), extra=0, usable=inch(38), join=0).count == 6
    assert binding_strips(inch(220), cut=inch("2 1/2"), extra=0, usable=inch(40), join=inch(2)).count == 6


def test_a_throw_and_a_small_piece_are_bought_as_half_a_yard():
    # Missouri quilt shop blog: 17 1/2 in, next quarter yard 1/2; sylviasquiltdepot: 12 1/2 in, 1/2 yd
    cloth = cotton(40, step=QUARTER)
    for length, used in ((268, "17 1/2"), (184, "12 1/2")):
        plan = plan_cuts(cloth, [ribbon("2 1/2", length, join=0)], limit=ONCE)
        assert (plan.used, plan.buy) == (inch(used), yards("1/2"))


def test_two_40_in_strips_of_2_1_2_give_77_1_2():
    # the join at 45 degrees costs one width
    def strips(length):
        return binding_strips(inch(length), cut=inch("2 1/2"), extra=0, usable=inch(40)).count

    assert strips("77 1/2") == 2
    assert strips("77 9/16") == 3


def test_a_bias_square_is_the_root_of_length_times_width_in_whole_inches():
    # quiltersquestiontime, Aug 2021: sqrt(350) = 18.71, 19 in; soft-furnishing FAQ: sqrt(500) = 22.36, 23 in
    assert bias_square(inch(100), inch("3 1/2")) == inch(19)
    assert bias_square(inch(250), inch(2)) == inch(23)
    assert bias_square(inch(200), inch("4 1/2")) == inch(30)


@given(st.integers(1, 600 * INCH), st.integers(1, 6 * INCH))
def test_a_bias_square_is_the_least_in_whole_inches_that_holds_the_strip(length, width):
    side = bias_square(length, width)
    assert side % INCH == 0
    assert side * side >= length * width > (side - INCH) ** 2


@given(st.integers(1, 900 * INCH), st.integers(INCH, 4 * INCH), st.integers(20 * INCH, 45 * INCH))
def test_the_strip_count_is_the_least_that_reaches_round(wanted, cut, usable):
    count = binding_strips(wanted, cut=cut, extra=0, usable=usable).count
    assert count * usable - (count - 1) * cut >= wanted
    assert count == 1 or (count - 1) * usable - (count - 2) * cut < wanted


def test_strips_that_would_be_lost_in_their_joins_are_refused():
    with pytest.raises(BadInput) as caught:
        binding_strips(inch(200), cut=inch("2 1/2"), extra=0, usable=inch(2))
    assert caught.value.field == "usable"
