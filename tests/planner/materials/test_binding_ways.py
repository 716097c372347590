"""Binding straight and on the bias side by side; bias square: sqrt(length × width), printed charts."""

from __future__ import annotations

from dataclasses import replace

from planner.materials import Allowances, BindingOption, binding_options, check_cuts
from planner.materials.parts import binding
from planner.problems import Impossible
from planner.units import Rate

from .samples import BOUND, ONCE, cotton, grid, inch

QUILT = grid(4, 5, 14, binding=BOUND)


def options(*cloths) -> tuple[BindingOption, ...]:
    found = binding_options(QUILT, cloths or (cotton(40),), allowances=Allowances(), limit=ONCE)
    assert not isinstance(found, Impossible)
    return found


def test_both_ways_are_offered_with_their_prices_the_cheaper_first():
    straight, bias = options()
    assert (straight.way, bias.way) == ("straight", "bias")
    # 252 + 12 = 264 in by 2 1/2: seven strips with six joins give 265, 17 1/2 in; sqrt(660) is 26 in
    assert (straight.length, bias.length) == (inch("17 1/2"), inch(26))
    assert straight.cost.minor < bias.cost.minor


def test_each_plan_passes_the_check():
    for option in options():
        cut_so = replace(QUILT, binding=replace(BOUND, bias=option.way == "bias"))
        assert check_cuts(cotton(40), binding(cut_so, Allowances()), option.plan) == ()


def test_two_cloths_are_put_in_order_by_price():
    cheap = cotton(40, id="cheap", price=Rate(600, "USD", "yd"))
    found = options(cotton(40), cheap)
    assert [(each.cloth, each.way) for each in found[:2]] == [("cheap", "straight"), ("cheap", "bias")]
    assert len(found) == 4


def test_a_cloth_too_narrow_for_the_square_offers_the_strips_alone():
    assert [each.way for each in options(cotton(22))] == ["straight"]


def test_cloth_too_narrow_for_either_is_impossible():
    found = binding_options(QUILT, [cotton(5)], allowances=Allowances(), limit=ONCE)
    assert isinstance(found, Impossible)


def test_a_quilt_without_binding_needs_none():
    assert binding_options(grid(2, 2, 12), [cotton(40)], allowances=Allowances(), limit=ONCE) == ()
