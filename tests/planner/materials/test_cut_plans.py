"""Cut plans: always sound, never under their bound."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.materials import Cloth, CutPiece, CutPlan, Ribbon, check_cuts, plan_cuts
from planner.problems import BadInput, Limit
from planner.units import INCH, METRE, MM, Money, Rate

from .samples import EIGHTH, ONCE, cotton, inch, ribbon, size, squares, yards

HALF = INCH // 2


def planned(cloth, *items, limit=ONCE) -> CutPlan:
    plan = plan_cuts(cloth, items, limit=limit)
    assert isinstance(plan, CutPlan)
    assert check_cuts(cloth, items, plan) == ()
    return plan


def ends_of(plan, name) -> list[int]:
    return [column.across for strip in plan.strips for column in strip.columns if column.item == name]


halves = st.integers(2, 40).map(lambda number: number * HALF)
a_piece = st.builds(CutPiece, st.just("p"), halves, halves, st.integers(1, 30), st.booleans())
a_ribbon = st.builds(
    Ribbon,
    st.just("r"),
    st.integers(2, 10).map(lambda number: number * HALF),
    st.integers(1, 600).map(lambda number: number * HALF),
    st.sampled_from([None, 0, INCH]),
)
items_to_cut = st.lists(st.one_of(a_piece, a_ribbon), min_size=1, max_size=7).map(
    lambda items: tuple(type(item)(f"{item.name}{n}", *values(item)) for n, item in enumerate(items))
)
scraps = st.lists(st.builds(size, st.integers(4, 44).map(str), st.integers(2, 60).map(str)), max_size=4).map(
    tuple
)
cloths = st.builds(
    lambda usable, price, on_hand, one_way: Cloth(
        "c", "cotton", usable * INCH, EIGHTH, price, on_hand, one_way
    ),
    st.integers(20, 44),
    st.sampled_from([Rate(1200, "USD", "yd"), None]),
    scraps,
    st.booleans(),
)


def values(item):
    if isinstance(item, CutPiece):
        return item.across, item.along, item.count, item.keep_grain
    return item.width, item.length, item.join


@given(cloths, items_to_cut)
@settings(max_examples=150)
def test_every_plan_passes_the_check_and_never_buys_less_than_its_bound(cloth, items):
    plan = plan_cuts(cloth, items, limit=ONCE)
    if isinstance(plan, CutPlan):
        assert check_cuts(cloth, items, plan) == ()
        assert plan.bound <= plan.buy
        assert plan.proved == (plan.bound == plan.buy)
    else:
        assert all(problem.what and problem.change and problem.where for problem in plan.problems)


@given(cloths, items_to_cut, st.randoms(use_true_random=False))
def test_shuffled_items_and_shelf_give_the_same_answer(cloth, items, chance):
    shuffled = list(items)
    chance.shuffle(shuffled)
    answer, again = plan_cuts(cloth, items, limit=ONCE), plan_cuts(cloth, shuffled, limit=ONCE)
    assert answer == again
    shelf = list(cloth.on_hand)
    chance.shuffle(shelf)
    moved = Cloth("c", "cotton", cloth.usable, cloth.step, cloth.price, tuple(shelf), cloth.directional)
    other = plan_cuts(moved, items, limit=ONCE)
    assert type(other) is type(answer)
    if isinstance(answer, CutPlan) and isinstance(other, CutPlan):
        assert (other.buy, other.used, other.bound, other.leftovers) == (
            answer.buy, answer.used, answer.bound, answer.leftovers
        )  # fmt: skip


@given(items_to_cut)
def test_a_cloth_twice_as_wide_never_needs_more_strips_by_its_bound(items):
    narrow, wide = cotton(40), cotton(80)
    assert planned(wide, *items).bound <= planned(narrow, *items).bound


@given(st.lists(st.integers(1, 30), min_size=1, max_size=6), st.integers(1, 60))
def test_pieces_of_one_kind_take_the_strips_that_division_gives(sides, count):
    # ceil(count / floor(usable / side)), the rule of every chart
    cloth = cotton(40)
    side = sides[0]
    plan = planned(cloth, squares(str(side), count))
    assert len(plan.strips) == -(-count // (40 // side))
    assert plan.proved


def test_a_ribbon_loses_one_width_at_each_join():
    # two 40-in strips of 2 1/2 give 77 1/2
    assert len(planned(cotton(40), ribbon("2 1/2", "77 1/2")).strips) == 2
    assert len(planned(cotton(40), ribbon("2 1/2", "77 9/16")).strips) == 3


def test_a_ribbon_takes_the_ends_that_the_pieces_leave():
    # 16 strips of two sashes leave 16 ends of 11 in: 11 + 9 x 8 1/2 = 87 1/2
    sashes = CutPiece("sash", inch("14 1/2"), inch("2 1/2"), 32)
    assert len(planned(cotton(40), sashes).strips) == 16
    assert len(planned(cotton(40), sashes, ribbon("2 1/2", 80)).strips) == 16


def test_an_end_under_the_shortest_allowed_is_left_alone():
    # 3 squares of 12 leave 4 in, under the least end of 6
    pieces = CutPiece("p", inch(12), inch("2 1/2"), 3)
    plan = planned(cotton(40), pieces, ribbon("2 1/2", "4"))
    assert len(plan.strips) == 2
    assert ends_of(plan, "ribbon") == [inch(6)]


def test_a_ribbon_is_joined_from_few_ends_where_whole_strips_are_needed_anyway():
    # 32 sashes leave 16 ends; 200 in need one new strip beside them: it goes in whole
    sashes = CutPiece("sash", inch("14 1/2"), inch("2 1/2"), 32)
    plan = planned(cotton(40), sashes, ribbon("2 1/2", 150))
    assert max(ends_of(plan, "ribbon")) == inch(40)


def test_what_is_on_hand_is_cut_first_within_its_width():
    cloth = Cloth("c", "cotton", inch(40), EIGHTH, Rate(1200, "USD", "yd"), (size(21, 12), size(50, 5)))
    plan = planned(cloth, squares("5", 20))
    by_source = Counter(strip.source for strip in plan.strips)
    assert by_source == {0: 1, 1: 1, None: 1}  # 4, 8 and 8
    assert plan.buy == 2 * EIGHTH


def test_a_plan_that_needs_nothing_bought_costs_nothing():
    cloth = Cloth("c", "cotton", inch(40), EIGHTH, Rate(1200, "USD", "yd"), (size(40, 30),))
    plan = planned(cloth, squares("5", 48))
    assert (plan.buy, plan.bound, plan.cost, plan.proved) == (0, 0, Money(0, "USD"), True)


def test_leftovers_of_4_by_10_and_more_go_back_to_the_shelf():
    plan = planned(cotton(40), squares("12", 2))
    assert plan.leftovers == (size(16, 12),)
    # 4 x 12 stays, 10 x 3 1/2 does not
    plan = planned(cotton(40), squares("12", 3), CutPiece("q", inch(30), inch("3 1/2"), 1))
    assert plan.leftovers == (size(4, 12),)


def squares_named(name, side, count):
    return CutPiece(name, inch(side), inch(side), count)


def test_a_step_of_a_tenth_of_a_metre_and_pieces_in_inches_share_a_plan():
    cloth = Cloth("c", "cotton", 1100 * MM, METRE // 10, Rate(1500, "EUR", "m"))
    plan = planned(cloth, squares("12", 7))
    # 43.3 in wide: 3 a strip, 3 strips, 36 in = 0.9144 m
    assert (plan.used, plan.buy, plan.cost) == (inch(36), METRE, Money(1500, "EUR"))


def test_a_piece_that_may_turn_is_turned_where_that_saves_cloth():
    long = {"across": inch(9), "along": inch(20), "count": 4}
    kept = planned(cotton(40), CutPiece("p", **long))
    free = planned(cotton(40), CutPiece("p", **long, keep_grain=False))
    assert (kept.used, free.used) == (inch(20), inch(18))


def test_on_a_one_way_print_nothing_is_turned():
    cloth = Cloth("cats", "cotton", inch(40), EIGHTH, Rate(1200, "USD", "yd"), directional=True)
    plan = planned(cloth, CutPiece("p", inch(9), inch(20), 4, keep_grain=False))
    assert plan.used == inch(20)


def test_nothing_to_cut_takes_nothing():
    plan = planned(cotton(40))
    assert (plan.strips, plan.used, plan.buy, plan.proved) == ((), 0, 0, True)


def test_two_items_of_one_name_are_refused():
    with pytest.raises(BadInput, match="twice"):
        plan_cuts(cotton(40), [squares("4", 1), squares("5", 1)], limit=ONCE)


def test_a_watcher_hears_of_each_plan_and_stops_the_search():
    heard = []
    cloth = Cloth("c", "cotton", inch(40), EIGHTH, Rate(1200, "USD", "yd"), (size(40, 7), size(20, 8)))
    items = [squares_named("a", "4", 14), squares_named("b", "3", 3)]
    plan = planned(cloth, *items, limit=Limit(effort=4, watch=lambda best: bool(heard.append(best))))
    assert heard == [plan]


@pytest.mark.parametrize(
    ("kind", "values"),
    [
        (CutPiece, {"name": "", "across": 1, "along": 1, "count": 1}),
        (CutPiece, {"name": "p", "across": 0, "along": 1, "count": 1}),
        (CutPiece, {"name": "p", "across": 1, "along": 1, "count": 0}),
        (Ribbon, {"name": "r", "width": 1, "length": 0}),
        (Ribbon, {"name": "r", "width": 1, "length": 1, "join": -1}),
        (Cloth, {"id": "c", "kind": "", "usable": 0, "step": 1, "price": None}),
        (Cloth, {"id": "c", "kind": "", "usable": 1, "step": 0, "price": None}),
        (Cloth, {"id": "c", "kind": "", "usable": 1, "step": 1, "price": Rate(1, "USD", "m2")}),
        (Cloth, {"id": "c", "kind": "", "usable": 1, "step": 1, "price": None, "on_hand": (size(0, 1),)}),
    ],
)
def test_what_makes_no_sense_cannot_be_built(kind, values):
    with pytest.raises(BadInput):
        kind(**values)


def test_a_cloth_of_a_yard_costs_its_rate():
    assert cotton(40).cost_of(yards("1 1/8")) == Money(1350, "USD")
