"""Batting: the package or roll that fits, against published sizes of mattresses and packages."""

from __future__ import annotations

import pytest

from planner.materials import Cloth, Pack, batting_options
from planner.problems import BadInput, Impossible
from planner.units import INCH, MM, Money, Rate, Size

from .samples import QUARTER, inch, size, yards

# four pages agree: packaged batting, in; prices invented
PACKS = tuple(
    Pack(name, size(width, height), Money(price, "USD"))
    for name, width, height, price in (
        ("craft", 36, 45, 900),
        ("crib", 45, 60, 1300),
        ("twin", 72, 90, 2200),
        ("full", 81, 96, 2600),
        ("queen", 90, 108, 3000),
        ("king", 120, 120, 4000),
    )
)
# mattresses (five pages agree), in, and the quilt with a 12-in drop on both sides and the foot;
# printed: twin 63 x 87, full 78 x 87, queen 84 x 92, king 100 x 92 (school slides, others)
WITH_DROP = {
    "twin": ((39, 75), (63, 87), "twin"),
    "full": ((54, 75), (78, 87), "full"),
    "queen": ((60, 80), (84, 92), "queen"),
    "king": ((76, 80), (100, 92), "king"),
}


@pytest.mark.parametrize("bed", WITH_DROP)
def test_the_package_named_for_a_bed_fits_a_quilt_with_a_12_in_drop(bed):
    (width, length), quilt, package = WITH_DROP[bed]
    assert (width + 2 * 12, length + 12) == quilt
    options = batting_options(size(*quilt), PACKS, overhang=inch("1 1/2"))
    assert options[0].cloth == package
    assert options[0].cost == {pack.id: pack.price for pack in PACKS}[package]


def test_four_inches_over_on_each_side_send_the_twin_to_the_next_package():
    # 63 x 87 + 8 = 71 x 95: 72 x 90 is too short, 81 x 96 is not
    assert batting_options(size(63, 87), PACKS, overhang=4 * INCH)[0].cloth == "full"


def test_a_crib_quilt_fits_the_crib_package_lying_either_way():
    # mattress 28 x 52
    for quilt in (size(36, 52), size(52, 36)):
        assert batting_options(quilt, PACKS, overhang=4 * INCH)[0].cloth == "crib"


def test_the_next_larger_packages_are_offered_too_cheapest_first():
    options = batting_options(size(63, 80), PACKS, overhang=4 * INCH)
    assert [option.cloth for option in options] == ["twin", "full", "queen", "king"]


def test_a_roll_gives_the_shorter_way_and_competes_by_price():
    # 50 x 66 and 8 in: 58 x 74 off a 96-in roll is 58 in
    cheap = Cloth("roll", "batting", inch(96), QUARTER, Rate(900, "USD", "yd"))
    options = batting_options(size(50, 66), (*PACKS, cheap), overhang=4 * INCH)
    assert (options[0].cloth, options[0].way) == ("roll", "roll")
    assert (options[0].size, options[0].length, options[0].buy) == (size(96, 58), inch(58), yards("1 3/4"))
    dear = Cloth("roll", "batting", inch(96), QUARTER, Rate(5000, "USD", "yd"))
    assert batting_options(size(50, 66), (*PACKS, dear), overhang=4 * INCH)[0].cloth == "twin"


def test_a_roll_on_hand_that_is_long_enough_costs_nothing_more():
    roll = Cloth("roll", "batting", inch(96), QUARTER, Rate(900, "USD", "yd"), on_hand=(size(96, 60),))
    option = batting_options(size(50, 66), (roll,), overhang=4 * INCH)[0]
    assert (option.buy, option.cost) == (0, Money(0, "USD"))
    short = Cloth("roll", "batting", inch(96), QUARTER, Rate(900, "USD", "yd"), on_hand=(size(96, 57),))
    assert batting_options(size(50, 66), (short,), overhang=4 * INCH)[0].buy == yards("1 3/4")


def test_what_has_no_price_comes_last_the_smaller_first():
    unpriced = tuple(Pack(pack.id, pack.size, None) for pack in reversed(PACKS))
    priced = Pack("dear", size(120, 120), Money(99_00, "USD"))
    options = batting_options(size(80, 90), (*unpriced, priced), overhang=0)
    assert [option.cloth for option in options] == ["dear", "full", "queen", "king"]


def test_batting_that_nothing_gives_in_one_piece_is_impossible_and_says_what_would_help():
    answer = batting_options(size(118, 118), PACKS, overhang=4 * INCH)
    assert isinstance(answer, Impossible)
    assert "join" in answer.problems[0].change


def test_metric_beds_are_served_the_same_way():
    # European single 90 x 200 cm with 25 cm drop: 140 x 225 cm, 160 x 245 with 10 cm a side
    quilt = Size(1400 * MM, 2250 * MM)
    packs = (Pack("small", Size(1500 * MM, 2400 * MM), None), Pack("large", Size(1700 * MM, 2500 * MM), None))
    assert [o.cloth for o in batting_options(quilt, packs, overhang=100 * MM)] == ["large"]


def test_a_package_of_no_size_cannot_be_built():
    with pytest.raises(BadInput):
        Pack("none", Size(0, inch(10)), None)
