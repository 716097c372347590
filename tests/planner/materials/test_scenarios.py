"""The materials of whole quilts, as the trade handbook's scenarios state them (section 8).

Strips are planned on 40 in and bought by the eighth of a yard, panels on 42 and 106 in and bought by
the quarter (3.3): with that every yardage comes out as printed, none a step off.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

import pytest

from planner.layout.blocks import grid_quilt
from planner.materials import (
    Allowances,
    CutPlan,
    Pack,
    backing_options,
    batting_options,
    check_cuts,
    interfacing_options,
    parts,
    plan_cuts,
    shirt_cuts,
)
from planner.problems import Impossible
from planner.quilt import Bag, Border, Cell, Garment, Piece, Quilt
from planner.units import INCH, Rect, Sides, Size

from .samples import BOUND, ONCE, QUARTER, border, cotton, grid, inch, remnant, sash, size, yards

USUAL = Allowances()


def tour_shirts() -> Quilt:
    """Three columns of five fronts 14 x 16, three of four backs 16 x 20, 8-in panels above and below."""
    cells = [
        Cell(f"F{column}{row}", Rect(column * inch(30), inch(8) + row * inch(16), inch(14), inch(16)))
        for column in range(3)
        for row in range(5)
    ] + [
        Cell(
            f"B{column}{row}",
            Rect(inch(14) + column * inch(30), inch(8) + row * inch(20), inch(16), inch(20)),
        )
        for column in range(3)
        for row in range(4)
    ]
    return Quilt(
        size(90, 96), tuple(cells), borders=(Border(Sides(8 * INCH, 0, 8 * INCH, 0)),), binding=BOUND
    )


QUILTS = {
    "graduate's aunt": grid(3, 4, 14, sashing=sash(2), binding=BOUND),
    "swimmer": grid(4, 5, 14, sashing=sash(2), binding=BOUND),
    "grandparent": grid(4, 4, 14, borders=[border(4)], binding=BOUND),
    "band club": grid(5, 5, 14, binding=BOUND),
    "widower": grid(4, 5, 12, borders=[border(3)], binding=BOUND),
    "running coach": grid(4, 5, 15, borders=[border(4)], binding=BOUND),
    "melted vinyl": grid(4, 4, 14, sashing=sash(2), binding=BOUND),
    "baby clothes": grid(4, 4, 12, sashing=sash(2), borders=[border(3)], binding=BOUND),
    "tour shirts": tour_shirts(),
    "certificate": grid(3, 3, 14, sashing=sash(2), binding=BOUND),
}


@dataclass(frozen=True)
class Printed:
    """What the scenario prints: finished size, binding strips and yards, both backings."""

    size: tuple[int, int]
    strips: int | None = None
    binding: str | None = None
    narrow: str | None = None
    wide: str | None = None


PRINTED = {
    "graduate's aunt": Printed((50, 66), 7, "1/2", "3 1/4", "1 3/4"),
    "swimmer": Printed((66, 82)),
    "grandparent": Printed((64, 64)),
    "band club": Printed((70, 70)),
    "widower": Printed((54, 66), 7, None, "3 1/2", "1 3/4"),
    "running coach": Printed((68, 83), 9, "5/8", "5 1/4", "2 1/4"),
    "melted vinyl": Printed((66, 66)),
    "baby clothes": Printed((64, 64), 8),
    "tour shirts": Printed((90, 96), 11, "7/8", "8 1/4", "2 3/4"),
    "certificate": Printed((50, 50)),
}


def planned(quilt: Quilt, *roles: str) -> CutPlan:
    items = [item for role in roles for item in parts(quilt, allowances=USUAL)[role]]
    plan = plan_cuts(cotton(40), items, limit=ONCE)
    assert isinstance(plan, CutPlan)
    assert check_cuts(cotton(40), items, plan) == ()
    return plan


def backing(quilt: Quilt):
    cloths = (cotton(42, id="narrow", step=QUARTER), cotton(106, id="wide", step=QUARTER))
    options = backing_options(
        quilt.size, cloths, overhang=USUAL.overhang, seam_loss=USUAL.seam_loss, least_panel=USUAL.least_panel
    )
    assert not isinstance(options, Impossible)
    return {
        cloth.id: min((o for o in options if o.cloth == cloth.id), key=lambda o: o.buy) for cloth in cloths
    }


@pytest.mark.parametrize("name", QUILTS)
def test_the_finished_size_is_the_printed_one(name):
    assert QUILTS[name].size == size(*PRINTED[name].size)


@pytest.mark.parametrize("name", [name for name in QUILTS if PRINTED[name].strips])
def test_binding_takes_the_printed_strips_and_yards(name):
    plan = planned(QUILTS[name], "binding")
    assert len(plan.strips) == PRINTED[name].strips
    assert plan.proved
    if PRINTED[name].binding:
        assert plan.buy == yards(PRINTED[name].binding)


@pytest.mark.parametrize("name", [name for name in QUILTS if PRINTED[name].narrow])
def test_backing_takes_the_printed_yards_of_narrow_and_of_wide_cloth(name):
    best = backing(QUILTS[name])
    assert best["narrow"].buy == yards(PRINTED[name].narrow)
    assert best["wide"].buy == yards(PRINTED[name].wide)


def test_the_graduates_backing_is_two_panels_level():
    best = backing(QUILTS["graduate's aunt"])["narrow"]
    assert (best.way, best.panels) == ("level", 2)


def test_the_graduates_sashing_is_31_pieces_from_16_strips_and_1_1_8_yd():
    quilt = QUILTS["graduate's aunt"]
    plan = planned(quilt, "sashing")
    assert sum(item.count for item in parts(quilt, allowances=USUAL)["sashing"]) == 31
    assert (len(plan.strips), plan.buy, plan.proved) == (16, yards("1 1/8"), True)


def test_the_graduates_cornerstones_are_20_from_two_strips():
    quilt = QUILTS["graduate's aunt"]
    assert sum(item.count for item in parts(quilt, allowances=USUAL)["cornerstone"]) == 20
    assert len(planned(quilt, "cornerstone").strips) == 2


def test_half_a_yard_of_gold_is_enough_for_cornerstones_only():
    items = parts(QUILTS["graduate's aunt"], allowances=USUAL)
    gold = remnant(42, 18)
    assert isinstance(plan_cuts(gold, items["cornerstone"], limit=ONCE), CutPlan)
    assert isinstance(plan_cuts(gold, items["sashing"], limit=ONCE), Impossible)
    assert not isinstance(plan_cuts(gold, items["cornerstone"] + items["binding"], limit=ONCE), CutPlan)


def test_sashing_cornerstones_and_binding_of_one_cloth_share_their_strips():
    # the 11-in ends beside two sashes take the other two: less than the three parts apart
    quilt = QUILTS["graduate's aunt"]
    apart = [planned(quilt, role) for role in ("sashing", "cornerstone", "binding")]
    together = planned(quilt, "sashing", "cornerstone", "binding")
    assert together.used < sum(plan.used for plan in apart)
    assert together.buy < sum(plan.buy for plan in apart)


def test_the_graduates_batting_is_58_by_74():
    quilt = QUILTS["graduate's aunt"]
    exact, short = Pack("exact", size(58, 74), None), Pack("short", size(58, 73), None)
    options = batting_options(quilt.size, (exact, short), overhang=USUAL.batting_overhang)
    assert not isinstance(options, Impossible)
    assert [option.cloth for option in options] == ["exact"]


def test_the_coachs_batting_is_76_by_91():
    exact, short = Pack("exact", size(76, 91), None), Pack("short", size(75, 91), None)
    options = batting_options(QUILTS["running coach"].size, (exact, short), overhang=USUAL.batting_overhang)
    assert not isinstance(options, Impossible)
    assert [option.cloth for option in options] == ["exact"]


def test_twelve_tees_take_5_1_2_yd_of_light_interfacing():
    numbers = [f"{number:02d}" for number in range(1, 13)]
    bag = Bag(
        tuple(Garment(each, "tee", {"cotton": Decimal(100)}) for each in numbers),
        tuple(
            Piece(each + "F", each, "front", size(10, 12), Sides.all_round(3 * INCH), "plastisol")
            for each in numbers
        ),
    )
    block = Size(14 * INCH, 14 * INCH)
    quilt = grid_quilt(3, 4, block, pieces=[each + "F" for each in numbers], sashing=sash(2))
    roll = replace(cotton(20, id="roll"), kind="light non-woven")
    options = interfacing_options(shirt_cuts(quilt, bag, rough=USUAL.rough), (roll,), limit=ONCE)
    assert not isinstance(options, Impossible)
    assert options[0].buy == yards("5 1/2")


def test_the_babys_sashing_is_40_pieces_from_14_strips_and_one_yard():
    quilt = QUILTS["baby clothes"]
    plan = planned(quilt, "sashing")
    assert sum(item.count for item in parts(quilt, allowances=USUAL)["sashing"]) == 40
    assert sum(item.count for item in parts(quilt, allowances=USUAL)["cornerstone"]) == 25
    assert (len(plan.strips), plan.buy) == (14, yards(1))


def test_the_tour_quilts_two_panels_lie_above_and_below_and_are_joined():
    panels = parts(QUILTS["tour shirts"], allowances=USUAL)["border"]
    assert [(panel.name, panel.width, panel.length) for panel in panels] == [
        ("border top", inch("8 1/2"), inch("90 1/2")),
        ("border bottom", inch("8 1/2"), inch("90 1/2")),
    ]
    # 90 1/2 and two joins of 8 1/2 for each: more than two strips of 40, and ends are shared
    assert len(planned(QUILTS["tour shirts"], "border").strips) == 6


@pytest.mark.parametrize("perimeter", range(120, 400, 7))
def test_the_handbooks_binding_rule_is_never_short_and_at_most_a_strip_over(perimeter):
    # ceil((2(W+L)+12) / 37.5) at 2 1/2 in: its first strip loses a join that is not sewn
    quilt = grid_quilt(1, 1, Size(perimeter * INCH // 4, perimeter * INCH // 4), binding=BOUND)
    rule = -(-(perimeter + 12) * 2 // 75)
    assert len(planned(quilt, "binding").strips) <= rule <= len(planned(quilt, "binding").strips) + 1
