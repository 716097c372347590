"""Cloth that is washed and squared before it is cut."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.materials import CutPiece, CutPlan, check_cuts, plan_cuts
from planner.problems import BadInput
from planner.units import INCH

from .samples import EIGHTH, ONCE, cotton, inch, squares

TWO_INCHES = 2 * INCH


def test_squaring_takes_its_length_once_and_shrinkage_its_share():
    cloth = replace(cotton(40), squaring=TWO_INCHES, shrinkage=30)
    # 34 + 2 = 36 in; 36 / .97 = 37.11 in, so nine eighths of a yard are 40 1/2
    assert cloth.to_buy(inch(34)) == 9 * EIGHTH
    assert cotton(40).to_buy(inch(36)) == 8 * EIGHTH
    assert cloth.to_buy(0) == 0


@pytest.mark.parametrize("bought", range(1, 30))
def test_what_a_purchase_gives_is_never_more_than_it_was_bought_for(bought):
    cloth = replace(cotton(40), squaring=TWO_INCHES, shrinkage=30)
    given = cloth.gives(bought * EIGHTH)
    assert cloth.to_buy(given) <= bought * EIGHTH
    assert cloth.to_buy(given + 1) > bought * EIGHTH


def test_a_washed_cloth_is_bought_longer_and_its_plan_is_sound_and_proved():
    cloth = replace(cotton(40), squaring=TWO_INCHES, shrinkage=30)
    items = [squares("5", 48), CutPiece("p", inch(14), inch(3), 9)]
    plain, washed = plan_cuts(cotton(40), items, limit=ONCE), plan_cuts(cloth, items, limit=ONCE)
    assert isinstance(plain, CutPlan)
    assert isinstance(washed, CutPlan)
    assert check_cuts(cloth, items, washed) == ()
    assert washed.proved
    assert washed.buy == cloth.to_buy(plain.used) > plain.buy


def test_the_check_sees_a_plan_that_forgot_the_wash():
    items = [squares("9", 16)]
    plan = plan_cuts(cotton(40), items, limit=ONCE)
    assert isinstance(plan, CutPlan)
    problems = check_cuts(replace(cotton(40), shrinkage=30), items, plan)
    assert any("than is bought" in problem.what for problem in problems)


@pytest.mark.parametrize("values", [{"squaring": -1}, {"shrinkage": -1}, {"shrinkage": 500}])
def test_allowances_that_make_no_sense_cannot_be_built(values):
    with pytest.raises(BadInput):
        replace(cotton(40), **values)
