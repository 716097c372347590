"""A one-way print stands upright in the quilt: what runs up it is cut along the cloth (common practice)."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from planner.materials import Allowances, CutPiece, CutPlan, check_cuts, overhang_for, parts, plan_cuts
from planner.problems import Impossible, Limit
from planner.quilt import Cell, Quilt
from planner.units import Rect, Sides

from .samples import border, cotton, grid, inch, sash

QUILT = grid(3, 4, 14, borders=[border(4)])
BORDER = parts(QUILT, allowances=Allowances())["border"]
CATS = replace(cotton(40), directional=True)
PLENTY = Limit(effort=60)


def planned(cloth) -> CutPlan:
    plan = plan_cuts(cloth, BORDER, limit=PLENTY)
    assert isinstance(plan, CutPlan)
    return plan


def test_the_sides_are_whole_and_run_along_the_cloth():
    plan = planned(CATS)
    columns = {column.item: (column.across, column.along) for strip in plan.strips if strip.lengthwise
               for column in strip.columns}  # fmt: skip
    assert columns["border left"] == columns["border right"] == (inch("4 1/2"), inch("56 1/2"))
    assert check_cuts(CATS, BORDER, plan) == ()


def test_top_and_bottom_lie_across_and_may_be_joined():
    plan = planned(CATS)
    level = {column.item for strip in plan.strips if not strip.lengthwise for column in strip.columns}
    assert level == {"border top", "border bottom"}


def test_a_plan_for_a_plain_cloth_is_caught_on_a_one_way_print():
    plan = plan_cuts(cotton(40), BORDER, limit=Limit(effort=1))
    assert isinstance(plan, CutPlan)
    assert any("stand with the print" in problem.what for problem in check_cuts(CATS, BORDER, plan))


def test_a_one_way_print_never_takes_less_than_a_plain_one():
    assert planned(CATS).buy >= planned(cotton(40)).buy


def test_a_remnant_shorter_than_the_side_is_impossible():
    short = replace(CATS, price=None, on_hand=(replace(QUILT.size, width=inch(40), height=inch(50)),))
    assert isinstance(plan_cuts(short, BORDER, limit=PLENTY), Impossible)


def test_a_long_arm_asks_for_more_back_than_a_machine_at_home():
    assert overhang_for("long arm") == inch(4) > overhang_for("machine") >= overhang_for("tied")


def lying(plan: CutPlan, name: str) -> dict[tuple[int, int], int]:
    """How many of an item are cut, by their size across and along the cloth."""
    found: Counter[tuple[int, int]] = Counter()
    for column in (column for strip in plan.strips for column in strip.columns):
        if column.item == name:
            found[column.across, column.along] += column.count
    return found


def test_sashes_between_the_blocks_of_a_row_are_cut_along_a_one_way_print():
    sashing = parts(grid(3, 4, 14, sashing=sash(2)), allowances=Allowances())["sashing"]
    plan = plan_cuts(CATS, sashing, limit=PLENTY)
    assert isinstance(plan, CutPlan)
    assert lying(plan, "sashing") == {
        (inch("14 1/2"), inch("2 1/2")): 3 * 5,
        (inch("2 1/2"), inch("14 1/2")): 4 * 4,
    }
    assert check_cuts(CATS, sashing, plan) == ()


def test_sashes_of_a_plain_cloth_lie_as_they_save_most():
    sashing = parts(grid(3, 4, 14, sashing=sash(2)), allowances=Allowances())["sashing"]
    plan = plan_cuts(cotton(40), sashing, limit=PLENTY)
    assert isinstance(plan, CutPlan)
    assert lying(plan, "sashing") == {(inch("14 1/2"), inch("2 1/2")): 31}
    assert any("one-way print" in problem.what for problem in check_cuts(CATS, sashing, plan))


def test_without_cornerstones_the_short_ones_and_the_sides_stand_and_the_long_ones_lie():
    sashing = parts(grid(2, 3, 12, sashing=sash(2, cornerstones=False)), allowances=Allowances())["sashing"]
    standing = {item.name: item.upright for item in sashing}
    assert standing.pop("short sashing") == 3
    assert {name for name, upright in standing.items() if upright} == {
        "side sashing left",
        "side sashing right",
    }
    plan = plan_cuts(CATS, sashing, limit=PLENTY)
    assert isinstance(plan, CutPlan)
    assert check_cuts(CATS, sashing, plan) == ()


def test_strips_beside_a_small_piece_stand_and_those_above_and_below_lie():
    cell = Cell("one", Rect(0, 0, inch(12), inch(12)), piece="1-01F", frame=Sides.all_round(inch(2)))
    frames = parts(Quilt(cell.at.size, (cell,)), allowances=Allowances())["frame"]
    assert {(item.across, item.along): (item.count, item.upright) for item in frames} == {
        (inch("12 1/2"), inch("2 1/2")): (2, 0),
        (inch("8 1/2"), inch("2 1/2")): (2, 2),
    }


@given(columns=st.integers(1, 5), rows=st.integers(1, 5), block=st.integers(6, 16), corners=st.booleans())
@settings(max_examples=40, deadline=None)
def test_every_plan_for_a_one_way_print_passes_the_check(columns, rows, block, corners):
    quilt = grid(columns, rows, block, sashing=sash(2, cornerstones=corners), borders=[border(3)])
    items = [item for role in parts(quilt, allowances=Allowances()).values() for item in role]
    plan = plan_cuts(CATS, items, limit=Limit(effort=1))
    assert isinstance(plan, CutPlan)
    assert check_cuts(CATS, items, plan) == ()
    assert sum(sum(lying(plan, item.name).values()) for item in items if isinstance(item, CutPiece)) == sum(
        item.count for item in items if isinstance(item, CutPiece)
    )
