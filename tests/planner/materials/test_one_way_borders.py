"""Borders of a one-way print stand with it: sides along the cloth in one piece (common practice)."""

from __future__ import annotations

from dataclasses import replace

from planner.materials import Allowances, CutPlan, check_cuts, overhang_for, parts, plan_cuts
from planner.problems import Impossible, Limit

from .samples import border, cotton, grid, inch

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
