"""Interfacing off the roll, kind by kind."""

from __future__ import annotations

import pytest

from planner.materials import (
    Cloth,
    InterfacingOption,
    ShirtCut,
    check_cuts,
    interfacing_options,
    interfacing_pieces,
    interfacing_size,
)
from planner.problems import Impossible
from planner.units import INCH, YARD, Rate, Sides

from .samples import EIGHTH, ONCE, QUARTER, inch, size, yards

TWO_INCHES = 2 * INCH


def panel(number: int, width, height, *, kind="light non-woven", layers=1) -> ShirtCut:
    cut = size(width, height)
    return ShirtCut(f"{number:02d}", f"{number:02d}F", cut, cut, Sides(), kind, layers)


def panels(count: int, width, height, **rest) -> list[ShirtCut]:
    return [panel(number, width, height, **rest) for number in range(1, count + 1)]


def roll(width, *, kind="light non-woven", id="roll", cents=220, step=EIGHTH, on_hand=()) -> Cloth:
    return Cloth(id, kind, inch(width), step, Rate(cents, "USD", "yd"), on_hand)


def options(cuts, *rolls, over=TWO_INCHES) -> tuple[InterfacingOption, ...]:
    found = interfacing_options(cuts, rolls, limit=ONCE, over=over)
    assert not isinstance(found, Impossible)
    return found


def test_twelve_14_in_blocks_take_5_1_2_yd_of_a_20_in_roll():
    # trade handbook 3.3 and scenario 1: half a yard a shirt for 14 1/2 blocks
    assert interfacing_size(size("14 1/2", "14 1/2")) == size("16 1/2", "16 1/2")
    (best,) = options(panels(12, "14 1/2", "14 1/2"), roll(20))
    assert (best.pieces, best.length, best.buy) == (12, inch(198), yards("5 1/2"))


def test_twenty_panels_of_15_in_take_about_8_1_2_yd_where_one_goes_across():
    # Jenny's Sewing Studio class sheet: roll under 30 wide, exactly 300 in
    (best,) = options(panels(20, 15, 15), roll("29 3/4", step=QUARTER), over=0)
    assert (best.length, best.buy) == (inch(300), yards("8 1/2"))


def test_twenty_five_panels_of_14_in_take_10_whole_yards_of_a_20_in_roll():
    # nanabluequilts, July 2013: 10 yd, exactly 350 in
    (best,) = options(panels(25, 14, 14), roll(20, step=YARD), over=0)
    assert (best.length, best.buy) == (inch(350), yards(10))


def test_a_yard_serves_two_panels_of_18_by_20():
    # pennyformythoughts blog, March 2017: 12 yd of a 20 in roll are 24 pieces
    (best,) = options(panels(24, 18, 20), roll(20), over=0)
    assert best.buy == yards(12)


@pytest.mark.parametrize(("width", "length"), [(20, 340), (44, 170)])
def test_twenty_17_in_panels_take_half_as_much_of_a_roll_twice_as_wide(width, length):
    # arithmetic: one or two across, 20 x 17 or 10 x 17 in
    assert options(panels(20, 17, 17), roll(width), over=0)[0].length == inch(length)


def test_a_roll_narrower_than_the_panel_does_not_serve():
    answer = interfacing_options(panels(20, 17, 17), (roll(15),), limit=ONCE, over=0)
    assert isinstance(answer, Impossible)
    assert "light non-woven" in answer.problems[0].what
    assert answer.problems[0].change


def test_rolls_are_compared_by_price_and_not_by_length():
    narrow = roll(20, id="narrow", cents=220)
    wide = roll(44, id="wide", cents=600)
    found = options(panels(12, "14 1/2", "14 1/2"), wide, narrow)
    assert [option.cloth for option in found] == ["narrow", "wide"]
    assert found[0].length > found[1].length


def test_each_kind_is_answered_for_itself_and_only_by_rolls_of_its_kind():
    cuts = [
        *panels(3, "14 1/2", "14 1/2"),
        panel(4, "14 1/2", "14 1/2", kind="tricot"),
        panel(5, "14 1/2", "14 1/2", kind="none", layers=0),
    ]
    found = options(cuts, roll(20, id="a"), roll(60, id="b", kind="tricot"), roll(20, id="c", kind="woven"))
    assert [(option.way, option.cloth, option.pieces) for option in found] == [
        ("light non-woven", "a", 3),
        ("tricot", "b", 1),
    ]


def test_a_kind_without_a_roll_is_named_with_the_blocks_that_need_it():
    cuts = [panel(1, 14, 14), panel(2, 14, 14, kind="low-heat tricot")]
    answer = interfacing_options(cuts, (roll(20),), limit=ONCE)
    assert isinstance(answer, Impossible)
    assert answer.problems[0].where == ("02",)


def test_shirts_that_need_none_need_no_roll():
    assert options(panels(3, 14, 14, kind="none", layers=0)) == ()


def test_a_doubled_layer_counts_twice_the_second_crosswise():
    (best,) = options(panels(4, 14, 14, kind="tricot", layers=2), roll(20, kind="tricot"))
    assert (best.pieces, best.length) == (8, 8 * inch(16))
    pieces = interfacing_pieces([panel(1, 10, 14, kind="tricot", layers=2)], kind="tricot", over=0)
    assert {(piece.across, piece.along) for piece in pieces} == {
        (inch(10), inch(14)),
        (inch(14), inch(10)),
    }


def test_non_woven_may_turn_and_tricot_keeps_its_stretch_across():
    # a 22-in panel does not go across a 20-in roll, but its 12-in side does
    assert options(panels(2, 22, 12), roll(20), over=0)[0].length == inch(44)
    answer = interfacing_options(
        panels(2, 22, 12, kind="tricot"), (roll(20, kind="tricot"),), limit=ONCE, over=0
    )
    assert isinstance(answer, Impossible)


def test_low_heat_tricot_of_60_in_takes_three_panels_across():
    # scenario 4: pieces 16 to 17 wide, 3 across 60 in
    (best,) = options(panels(12, 17, 17, kind="low-heat tricot"), roll(60, kind="low-heat tricot"), over=0)
    assert best.length == 4 * inch(17)


def test_what_is_on_hand_is_used_before_more_is_bought():
    # scenario shop: 14 yd of non-woven on the shelf
    shelf = roll(20, on_hand=(size(20, 14 * 36),))
    (best,) = options(panels(12, "14 1/2", "14 1/2"), shelf)
    assert (best.length, best.buy) == (inch(198), 0)


def test_the_plan_of_each_option_passes_the_check():
    cuts = [*panels(5, "14 1/2", "16 1/2"), *panels(3, "12 1/2", "12 1/2")]
    shelf = roll(44)
    (best,) = options(cuts, shelf)
    pieces = interfacing_pieces(cuts, kind="light non-woven", over=TWO_INCHES)
    assert check_cuts(shelf, pieces, best.plan) == ()
