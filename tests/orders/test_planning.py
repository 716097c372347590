"""The bridge: an order's records become a brief, and the plan comes back as stages and blocks."""

from __future__ import annotations

from datetime import timedelta

import pytest

from orders import planning
from orders.cloth import shopping
from orders.days.calendar import workload
from orders.models import Cloth, Design, Enquiry, Order, Reservation
from planner.layout import check_layout
from planner.problems import BadInput
from planner.units import INCH, Size


@pytest.mark.django_db
def test_twelve_shirts_are_answered_with_the_throw_they_make(shop, order, twelve_shirts, shelf):
    order.cloth = {"sashing": "Forest", "cornerstone": "Gold", "binding": "Forest"}
    answer = planning.plan_order(order, shop)
    best = answer.options[answer.chosen]
    assert best.layout.quilt.size == Size(50 * INCH, 66 * INCH)
    assert check_layout(best.layout, planning.bag_of(order)) == ()
    assert best.pricing.total.minor == 46800
    assert best.promise.day < 70


@pytest.mark.django_db
def test_the_stages_of_one_order_are_load_for_the_next(shop, order, twelve_shirts, shelf, ada, aunt):
    answer = planning.plan_order(order, shop)
    best = answer.options[0]
    assert workload(shop, today=shop.today()).stages == ()
    planning.lay_out_work(order, best.minutes, by=ada)
    load = workload(shop, today=shop.today())
    assert sum(stage.minutes for stage in load.stages) == sum(each.minutes for each in best.minutes)
    assert {due.order for due in load.dues} == {str(order)}
    assert workload(shop, today=shop.today(), but=order).stages == ()


@pytest.mark.django_db
def test_laying_the_work_out_again_leaves_what_has_begun_alone(shop, order, twelve_shirts, shelf, ada):
    best = planning.plan_order(order, shop).options[0]
    planning.lay_out_work(order, best.minutes, by=ada)
    first = order.stages.first()
    first.start(by=ada)
    planning.lay_out_work(
        order, [type(each)(each.stage, each.minutes + 5, 0.3, 0) for each in best.minutes], by=ada
    )
    first.refresh_from_db()
    assert first.minutes == best.minutes[0].minutes
    assert order.stages.all()[1].minutes == best.minutes[1].minutes + 5


@pytest.mark.django_db
def test_a_penciled_place_counts_until_its_day_is_over(shop, ada):
    enquiry = Enquiry.objects.create(
        name="A coach", reach="555 0101", minutes=600, needed_by=shop.today() + timedelta(days=60)
    )
    enquiry.pencil_in(days=7, on=shop.today(), by=ada)
    load = workload(shop, today=shop.today())
    assert [stage.minutes for stage in load.stages] == [600]
    assert [due.firm for due in load.dues] == [False]
    assert workload(shop, today=shop.today() + timedelta(days=8)).stages == ()


@pytest.mark.django_db
def test_a_design_remembers_every_move_and_undo_goes_back(shop, order, twelve_shirts, shelf, ada):
    options = planning.plan_order(order, shop).options
    design = Design.objects.create(order=order)
    design.draw(options[0].layout.quilt, "Even grid", by=ada)
    design.draw(options[-1].layout.quilt, "Another", by=ada)
    design.undo(by=ada)
    assert design.quilt == options[0].layout.quilt
    version = design.freeze(by=ada)
    assert design.freeze(by=ada) == version
    assert version.as_quilt() == options[0].layout.quilt


@pytest.mark.django_db
def test_blocks_follow_the_layout(shop, order, twelve_shirts, shelf):
    drawn = planning.plan_order(order, shop).options[0].layout.quilt
    planning.keep_blocks(order, drawn)
    assert order.blocks.count() == 12
    planning.keep_blocks(order, drawn)
    assert {block.piece.name for block in order.blocks.select_related("piece__shirt")} == {
        f"{number:02d}F" for number in range(1, 13)
    }


@pytest.mark.django_db
def test_cloth_that_another_order_has_spoken_for_is_bought_anew(shop, order, twelve_shirts, shelf, ada, aunt):
    forest = next(cloth for cloth in shelf if cloth.name == "Forest")
    order.cloth = {"sashing": "Forest", "cornerstone": "Forest", "binding": "Forest"}
    best = planning.plan_order(order, shop).options[0]
    assert best.cuts["sashing"].buy == 0
    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    Reservation.objects.create(cloth=forest, order=other, role="border", length=forest.pieces.get().length)
    assert planning.plan_order(order, shop).options[0].cuts["sashing"].buy > 0


@pytest.mark.django_db
def test_every_cloth_the_planner_sees_has_its_width_and_what_the_shop_adds(shop, order, shelf, ada):
    """One bridge: the planner refuses a usable width over the width, and all that is bought is squared."""
    forest = Cloth.objects.with_pieces().get(name="Forest")
    forest.width = forest.usable - 1  # no record can have it; the planner does not take it either
    with pytest.raises(BadInput, match="more than the width"):
        planning.cloth_of(forest, shop, order=order)
    shop.rules["allowances"] = {"squaring": "2 in", "shrinkage": 30}
    forest.width = forest.usable
    for seen in (planning.cloth_of(forest, shop, order=order), planning.bolt_of(forest, shop)):
        assert (seen.width, seen.squaring, seen.shrinkage) == (forest.width, 2 * INCH, 30)
        assert seen.to_buy(34 * INCH) == 9 * forest.step  # (34 + 2) / 0.97 = 37.1 in: nine eighths


@pytest.mark.django_db
def test_the_list_buys_more_where_cloth_is_washed_and_its_end_squared(shop, order, shelf, ada):
    forest = Cloth.objects.get(name="Forest")
    Reservation.objects.create(order=order, cloth=forest, role="sashing", length=108 * INCH + 34 * INCH)
    assert shopping.shopping_list(shop).lines[0].buy == 8 * forest.step
    shop.rules["allowances"] = {"squaring": "2 in", "shrinkage": 30}
    assert shopping.shopping_list(shop).lines[0].buy == 9 * forest.step


@pytest.mark.django_db
@pytest.mark.parametrize(("how", "beyond"), [("", 4), ("machine", 3), ("tied", 2), ("long arm", 4)])
def test_the_back_goes_beyond_the_top_by_how_the_quilt_is_quilted(
    shop, order, twelve_shirts, shelf, how, beyond
):
    order.wish["quilted"] = how
    best = planning.plan_order(order, shop).options[0]
    wide = next(option for option in best.backing if option.panels == 1)
    sides = (best.layout.quilt.size.width, best.layout.quilt.size.height)
    assert wide.length in [side + 2 * beyond * INCH for side in sides]
