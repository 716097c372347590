"""What holds for every cut plan: its bound, wider cloth, orders put together, few kinds of strip."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.materials import Allowances, CutPlan, Item, Ribbon, check_cuts, parts, plan_cuts
from planner.problems import Limit
from planner.quilt import Quilt

from .samples import BOUND, border, cotton, grid, inch, sash

QUICK = Limit(effort=30)
USUAL = Limit(effort=200)
ROLES = (
    ("sashing",),
    ("sashing", "cornerstone"),
    ("sashing", "binding"),
    ("border", "binding"),
    ("sashing", "cornerstone", "border", "binding"),
)


def quilt(chance: random.Random, *, cornerstones: bool) -> Quilt:
    """Invent a small quilt."""
    strips = sash(chance.choice(("1 1/2", "2", "2 1/2")), cornerstones=cornerstones)
    around = [border(chance.randint(3, 6))]
    block = chance.choice(("10", "10 1/2", "12", "13 1/2", "14"))
    return grid(
        chance.randint(2, 5), chance.randint(2, 6), block, sashing=strips, borders=around, binding=BOUND
    )


def quilts(count: int, *, seed: int) -> Iterator[tuple[Item, ...]]:
    chance = random.Random(seed)
    for number in range(count):
        roles = ROLES[number % len(ROLES)]
        found = parts(quilt(chance, cornerstones="cornerstone" in roles), allowances=Allowances())
        yield tuple(item for role in roles for item in found[role])


def plan_of(cloth, items, limit=QUICK) -> CutPlan:
    plan = plan_cuts(cloth, items, limit=limit)
    assert isinstance(plan, CutPlan)
    return plan


def renamed(items: tuple[Item, ...], number: int) -> tuple[Item, ...]:
    return tuple(replace(item, name=f"order {number} {item.name}") for item in items)


def test_500_invented_quilts_pass_the_check_and_their_lengths_are_whole_ticks():
    for items in quilts(500, seed=7):
        plan = plan_of(cotton(40), items, Limit(effort=1))
        assert check_cuts(cotton(40), items, plan) == ()
        assert plan.bound <= plan.buy
        numbers = [plan.used, plan.buy, plan.bound]
        numbers += [number for strip in plan.strips for number in (strip.at, strip.height)]
        for column in (column for strip in plan.strips for column in strip.columns):
            numbers += [column.across, column.along, column.count]
        assert {type(number) for number in numbers} == {int}


@pytest.mark.slow
def test_searched_plans_pass_the_check_and_are_never_dearer_than_strips_laid_widest_first():
    proved = 0
    for items in quilts(20, seed=11):
        plan, quick = plan_of(cotton(40), items, USUAL), plan_of(cotton(40), items, Limit(effort=1))
        assert check_cuts(cotton(40), items, plan) == ()
        assert quick.bound <= plan.bound <= plan.buy <= quick.buy
        proved += plan.proved
    assert proved >= 19


@pytest.mark.slow
@settings(max_examples=12, deadline=None)
@given(st.integers(0, 10_000), st.integers(0, 8))
def test_a_proved_plan_never_costs_more_on_wider_cloth(seed, wider):
    items = next(quilts(1 + seed % 5, seed=seed))
    narrow, wide = plan_of(cotton(40), items), plan_of(cotton(40 + wider), items)
    if wide.proved:
        assert wide.buy <= narrow.buy
    assert wide.bound <= narrow.buy


@pytest.mark.slow
@settings(max_examples=8, deadline=None)
@given(st.integers(0, 10_000))
def test_two_orders_together_never_take_more_than_apart(seed):
    one, two = (renamed(items, n) for n, items in enumerate(quilts(2, seed=seed)))
    apart = [plan_of(cotton(40), one), plan_of(cotton(40), two)]
    together = plan_of(cotton(40), (*one, *two))
    bought = sum(plan.buy for plan in apart)
    assert together.bound <= bought
    if together.proved:
        assert together.buy <= bought


def kinds(plan: CutPlan, items: tuple[Item, ...]) -> int:
    """How many kinds of strip there are; one that is filled less, or gives other ends, is no other kind."""
    joined = {item.name for item in items if isinstance(item, Ribbon)}
    found: list[tuple[int, dict[tuple[str, int], int]]] = []
    for strip in plan.strips:
        columns: dict[tuple[str, int], int] = {}
        for each in strip.columns:
            if each.item not in joined:
                columns[(each.item, each.across)] = columns.get((each.item, each.across), 0) + 1
        if not any(_is_part(columns, other) and height == strip.height for height, other in found):
            found = [each for each in found if not (_is_part(each[1], columns) and each[0] == strip.height)]
            found.append((strip.height, columns))
    return len(found)


def _is_part(columns, of) -> bool:
    return all(of.get(key, 0) >= count for key, count in columns.items())


def test_cloths_of_sashing_and_cornerstones_are_cut_in_at_most_four_kinds_of_strip():
    for items in list(quilts(40, seed=3))[1::5]:
        plan = plan_of(cotton(40), items, USUAL)
        assert plan.proved
        assert kinds(plan, items) <= 4


def test_a_bound_above_the_answer_would_be_caught():
    items = next(quilts(1, seed=1))
    plan = plan_of(cotton(40), items)
    wrong = replace(plan, bound=plan.buy + inch("4 1/2"), proved=False)
    assert any("bound" in problem.what for problem in check_cuts(cotton(40), items, wrong))
