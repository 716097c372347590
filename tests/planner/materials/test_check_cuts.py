"""The check of cut plans catches every way in which a plan can be wrong."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.materials import Cloth, Column, CutPiece, CutPlan, Ribbon, Strip, check_cuts, plan_cuts
from planner.units import INCH, Money, Rate

from .samples import EIGHTH, ONCE, inch, size

CLOTH = Cloth("navy", "cotton", inch(40), EIGHTH, Rate(1200, "USD", "yd"), (size(42, 5), size(20, 12)))
SASH = CutPiece("sash", inch("14 1/2"), inch("2 1/2"), 9)
SQUARE = CutPiece("square", inch(6), inch(5), 4, keep_grain=False)
BINDING = Ribbon("binding", inch("2 1/2"), inch(150))
ITEMS = (SASH, SQUARE, BINDING)


def sound() -> CutPlan:
    plan = plan_cuts(CLOTH, ITEMS, limit=ONCE)
    assert isinstance(plan, CutPlan)
    return plan


def with_strip(plan: CutPlan, number: int, **changes) -> CutPlan:
    strips = list(plan.strips)
    strips[number] = replace(strips[number], **changes)
    return replace(plan, strips=tuple(strips))


def with_column(plan: CutPlan, name: str, **changes) -> CutPlan:
    """Change the first column of that item."""
    number, strip = next(
        (n, s) for n, s in enumerate(plan.strips) if any(column.item == name for column in s.columns)
    )
    place = next(n for n, column in enumerate(strip.columns) if column.item == name)
    columns = list(strip.columns)
    columns[place] = replace(columns[place], **changes)
    return with_strip(plan, number, columns=tuple(columns))


def without_column(plan: CutPlan, name: str) -> CutPlan:
    strips = list(plan.strips)
    number = max(n for n, s in enumerate(strips) if any(column.item == name for column in s.columns))
    columns = list(strips[number].columns)
    columns.pop(max(n for n, column in enumerate(columns) if column.item == name))
    return with_strip(plan, number, columns=tuple(columns))


def bought(plan: CutPlan) -> int:
    """The number of the last strip that is newly bought."""
    return max(number for number, strip in enumerate(plan.strips) if strip.source is None)


def on_hand(plan: CutPlan) -> int:
    return next(number for number, strip in enumerate(plan.strips) if strip.source is not None)


BROKEN = {
    "a sash is missing": (lambda p: without_column(p, "sash"), "instead of 9"),
    "a sash is cut twice": (lambda p: with_column(p, "sash", count=2), "instead of 9"),
    "a sash is too short": (lambda p: with_column(p, "sash", across=inch(14)), "another size"),
    "a sash is turned": (
        lambda p: with_column(p, "sash", across=SASH.along, along=SASH.across), "off its grain"
    ),
    "a column is higher than its strip": (
        lambda p: with_column(p, "square", along=inch(60)), "does not fit into the height"
    ),
    "a strip is wider than the cloth": (
        lambda p: with_strip(p, bought(p), columns=(Column("sash", inch("14 1/2"), inch("2 1/2"), 1),) * 3),
        "wider than the usable width",
    ),
    "a stranger is cut": (
        lambda p: with_strip(p, bought(p), columns=(Column("cuff", INCH, INCH, 1),)), "nobody asked"
    ),
    "a piece of binding is left out": (lambda p: without_column(p, "binding"), "too short once joined"),
    "the binding is too narrow": (
        lambda p: with_column(p, "binding", along=inch(2)), "end of another width"
    ),
    "an end is too short to join": (
        lambda p: with_column(p, "binding", across=inch(5)), "end that is too short"
    ),
    "two strips overlap": (lambda p: with_strip(p, bought(p), at=0), "overlap"),
    "more is cut than is bought": (lambda p: with_strip(p, bought(p), at=p.buy), "than is bought"),
    "more is cut than is on hand": (lambda p: with_strip(p, on_hand(p), at=inch(30)), "than is on hand"),
    "the source is unknown": (lambda p: with_strip(p, 0, source=7), "not on hand"),
    "too little is bought": (lambda p: replace(p, buy=p.buy - EIGHTH), "than is bought"),
    "half a step is bought": (lambda p: replace(p, buy=p.buy + EIGHTH // 2), "whole number of steps"),
    "the cost is off by a cent": (
        lambda p: replace(p, cost=Money(p.cost.minor + 1, "USD")), "not the price"
    ),
    "the cost is left out": (lambda p: replace(p, cost=None), "not the price"),
    "the length used is wrong": (lambda p: replace(p, used=p.used - 1), "length used"),
    "the bound is above the purchase": (lambda p: replace(p, bound=p.buy + EIGHTH), "the bound says"),
    "it claims a proof it has not": (
        lambda p: replace(p, bound=p.buy - EIGHTH, proved=True), "proved exactly when"
    ),
    "a leftover is invented": (
        lambda p: replace(p, leftovers=(*p.leftovers, size(40, 30))), "left over than there can be"
    ),
    "a leftover is larger than the cloth": (
        lambda p: replace(p, leftovers=(size(41, 1),)), "larger than what it was cut from"
    ),
}  # fmt: skip


def test_the_plan_itself_is_sound_and_uses_every_kind_of_source():
    plan = sound()
    assert check_cuts(CLOTH, ITEMS, plan) == ()
    assert {strip.source for strip in plan.strips} == {0, 1, None}


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_plan_is_caught(name):
    broken, words = BROKEN[name]
    problems = check_cuts(CLOTH, ITEMS, broken(sound()))
    assert any(words in problem.what for problem in problems), problems
    assert all(problem.change and problem.where[0] == "navy" for problem in problems)


def test_a_turned_piece_is_sound_where_it_may_turn_and_not_on_a_one_way_print():
    square = CutPiece("p", inch(9), inch(20), 4, keep_grain=False)
    plain = Cloth("c", "cotton", inch(40), EIGHTH, Rate(1200, "USD", "yd"))
    plan = plan_cuts(plain, [square], limit=ONCE)
    assert isinstance(plan, CutPlan)
    assert plan.strips[0].columns[0].across == inch(20)
    assert check_cuts(plain, [square], plan) == ()
    problems = check_cuts(replace(plain, directional=True), [square], plan)
    assert any("one-way print" in problem.what for problem in problems)


def test_buying_cloth_that_cannot_be_bought_is_caught():
    problems = check_cuts(replace(CLOTH, price=None), ITEMS, replace(sound(), cost=None))
    assert any("cannot be bought" in problem.what for problem in problems)


def a_plan(*strips: Strip, buy: int) -> CutPlan:
    used = sum(strip.height for strip in strips)
    return CutPlan(strips, used, buy, CLOTH.cost_of(buy), 0, False, "by hand", ())


def test_pieces_stacked_in_a_column_count_one_by_one():
    stack = Strip(None, 0, inch("7 1/2"), (Column("sash", inch("14 1/2"), inch("2 1/2"), 3),))
    plan = a_plan(stack, buy=2 * EIGHTH)
    assert check_cuts(CLOTH, [replace(SASH, count=3)], plan) == ()
    assert check_cuts(CLOTH, [replace(SASH, count=4)], plan) != ()


def test_in_a_lengthwise_strip_a_ribbon_runs_along_the_cloth():
    border = Ribbon("border", inch(4), inch(60))
    strip = Strip(None, 0, inch(60), (Column("border", inch(4), inch(60), 1),), lengthwise=True)
    plan = a_plan(strip, buy=14 * EIGHTH)
    assert check_cuts(CLOTH, [border], plan) == ()
    assert check_cuts(CLOTH, [border], a_plan(replace(strip, lengthwise=False), buy=14 * EIGHTH)) != ()
