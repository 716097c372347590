"""Ways to make the back, against printed worked examples."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.materials import Cloth, backing_options
from planner.problems import BadInput, Impossible
from planner.units import INCH, YARD, Rate, Size

from .samples import EIGHTH, QUARTER, cotton, inch, size, yards


def ways(needed: Size, *cloths: Cloth, seam_loss=INCH, least_panel=8 * INCH, overhang=0):
    options = backing_options(needed, cloths, overhang=overhang, seam_loss=seam_loss, least_panel=least_panel)
    assert not isinstance(options, Impossible)
    return options


def by_way(options):
    return {option.way: option for option in options}


def test_a_back_of_65_by_78_takes_130_or_156_in_of_two_panels():
    # quilting forum, Dec 2015: 2 x 65 = 130 in = 3 5/8 yd, or 2 x 78 = 156 in = 4 1/3 yd
    best, other = ways(size(65, 78), cotton(42))
    assert (best.way, best.panels, best.length, best.buy) == ("level", 2, inch(130), yards("3 5/8"))
    assert (other.way, other.panels, other.length) == ("upright", 2, inch(156))
    assert 3 * other.length == yards(13)


def test_a_back_of_80_by_56_takes_112_in_with_seams_left_out_and_160_with_them():
    # quilting forum: 2 widths x 56 = 112 in = 3.11 yd of 40-in cloth, seams not counted
    assert ways(size(80, 56), cotton(40), seam_loss=0)[0].length == inch(112)
    assert ways(size(80, 56), cotton(40))[0].length == inch(160)


def test_a_back_of_88_by_102_takes_306_in_upright_and_264_level():
    # longarm page: 2.1, so 3 lengths, 306 in (upright); level is shorter
    options = ways(size(88, 102), cotton(42))
    assert (by_way(options)["upright"].panels, by_way(options)["upright"].length) == (3, inch(306))
    assert (options[0].way, options[0].panels, options[0].length) == ("level", 3, inch(264))


def test_a_back_of_103_by_110_comes_whole_out_of_3_1_8_yd_of_wide_cloth():
    # backing Q&A page: 110 / 36 = 3.05, 3 1/8 (its further 1/8 for shrinkage is not ours to add)
    best = ways(size(103, 110), cotton(108))[0]
    assert (best.way, best.panels, best.length, best.buy) == ("whole", 1, inch(110), yards("3 1/8"))


def test_a_magazine_pattern_of_80_1_2_by_63_1_2_takes_5_yd():
    # Homespun magazine pattern page: batting at least 89 x 71, usable 42, 2 lengths of 89 = 178 in
    best = ways(size(89, 71), cotton(42))[0]
    assert (best.panels, best.length, best.buy) == (2, inch(178), yards(5))


def test_a_pattern_of_73_1_2_square_takes_4_1_2_yd_or_2_1_4_of_wide_cloth():
    # Thimble Blossoms "Flower Patch" listing: batting 80 x 80
    narrow, wide = cotton(42, id="narrow"), cotton(108, id="wide")
    found = {
        option.cloth: option
        for option in ways(size("73 1/2", "73 1/2"), narrow, wide, overhang=inch("3 1/4"))
    }
    assert (found["narrow"].length, found["narrow"].buy) == (inch(160), yards("4 1/2"))
    assert (found["wide"].length, found["wide"].buy) == (inch(80), yards("2 1/4"))


@pytest.mark.parametrize(
    ("quilt", "best_narrow", "wide"),
    [((60, 75), 166, 68), ((70, 90), 196, 78), ((90, 100), 294, 108)],
)
def test_common_sizes_with_4_in_over_take_whole_panels(quilt, best_narrow, wide):
    # arithmetic of k·41 − (k−1) and of 106 usable in 108, whole panels only
    narrow = ways(size(*quilt), cotton(41), overhang=4 * INCH)
    assert narrow[0].length == inch(best_narrow)
    assert ways(size(*quilt), cotton(106), overhang=4 * INCH)[0].length == inch(wide)


def test_the_printed_rule_that_divides_an_area_by_a_length_is_not_followed():
    # (W+4)(H+4)/36 "yards" is found on several pages and wrong by the cloth's width
    best = ways(size(72, 90), cotton(42), overhang=2 * INCH)[0]
    printed = (72 + 4) * (90 + 4) // 36
    assert best.length == inch(188)
    assert best.buy < printed * YARD // 30


def test_a_one_way_print_is_only_laid_upright():
    cloth = Cloth("cats", "cotton", inch(42), EIGHTH, Rate(1200, "USD", "yd"), directional=True)
    assert [option.way for option in ways(size(65, 78), cloth)] == ["upright"]
    wide = Cloth("cats", "cotton", inch(108), EIGHTH, Rate(1200, "USD", "yd"), directional=True)
    assert ways(size(65, 78), wide)[0].length == inch(78)


def test_the_cheapest_comes_first_and_what_has_no_price_last():
    cheap_wide = cotton(108, id="wide", price=Rate(1800, "USD", "yd"))
    dear = cotton(42, id="dear", price=Rate(4000, "USD", "yd"))
    unpriced = Cloth("gift", "cotton", inch(108), EIGHTH, None)
    options = ways(size(58, 74), dear, unpriced, cheap_wide)
    assert [option.cloth for option in options] == ["wide", "dear", "dear", "gift"]
    assert options[-1].cost is None


def test_what_is_on_hand_is_not_bought_again():
    shelf = Cloth("f11", "wide", inch(104), QUARTER, Rate(1800, "USD", "yd"), on_hand=(size(104, 90),))
    best = ways(size(58, 74), shelf)[0]
    assert (best.length, best.buy, best.cost.minor) == (inch(58), 0, 0)
    half = cotton_with(on_hand=(size(42, 60),))
    assert ways(size(58, 74), half)[0].buy == yards("1 5/8")


def cotton_with(**rest) -> Cloth:
    return Cloth("cotton", "cotton", inch(42), EIGHTH, Rate(1200, "USD", "yd"), **rest)


def test_cloth_so_narrow_that_slivers_are_left_is_not_offered():
    # seven panels of 10 in make 64: trimmed alike to 60, the outer ones show 7 1/2
    options = backing_options(size(60, 60), (cotton(10),), overhang=0, seam_loss=INCH, least_panel=8 * INCH)
    assert isinstance(options, Impossible)
    assert options.problems[0].change


def test_prices_in_two_currencies_cannot_be_put_in_order():
    with pytest.raises(BadInput, match="one currency"):
        ways(size(58, 74), cotton(42), cotton(42, id="euro", price=Rate(1100, "EUR", "m")))


@given(st.integers(20, 120), st.integers(20, 130), st.integers(36, 110))
def test_panels_always_reach_over_the_back_and_one_fewer_would_not(width, height, usable):
    for option in ways(size(width, height), cotton(usable)):
        across, along = (height, width) if option.way == "level" else (width, height)
        if option.way == "whole":
            assert min(width, height) <= usable
            continue
        assert option.length == option.panels * along * INCH
        assert option.panels * usable - (option.panels - 1) >= across
        assert (option.panels - 1) * usable - (option.panels - 2) < across


@given(st.permutations(["a", "b", "c", "d"]))
def test_the_order_of_the_shelf_does_not_change_the_answer(order):
    cloths = {name: cotton(40 + 2 * (number // 2), id=name) for number, name in enumerate("abcd")}
    assert ways(size(58, 74), *(cloths[name] for name in order)) == ways(size(58, 74), *cloths.values())
