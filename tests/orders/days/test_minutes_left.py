"""What a stage still takes: by its pile once some of it is tapped, by the clock before that."""

import pytest

from orders.bench import work
from orders.bench.piles import minutes_left
from orders.customer.telling import left_of
from orders.days.calendar import workload
from orders.models import Order, Stage
from tests.orders.workbench import cut as cut_all

pytestmark = pytest.mark.django_db


@pytest.fixture
def fusing(order, twelve_shirts, shop, ada):
    """Twelve blocks that are cut; 72 minutes at the iron by the plan, none clocked."""
    cut_all(order, shop, ada)
    Stage.objects.filter(order=order, kind="fuse").update(minutes=72)
    return order


def fused(order, count, ada):
    work.do_pile(order, "fuse", order.blocks.values_list("pk", flat=True)[:count], by=ada)
    order = Order.objects.with_state().get(pk=order.pk)
    return order, next(each for each in order.stages.all() if each.kind == "fuse")


@pytest.mark.parametrize(("through", "spent", "left"), [(7, 0, 30), (7, 40, 30), (11, 90, 6), (1, 0, 66)])
def test_five_of_twelve_blocks_take_five_twelfths_whatever_the_clock_says(fusing, ada, through, spent, left):
    """By hand: 72 minutes for twelve are 6 a block."""
    Stage.objects.filter(order=fusing, kind="fuse").update(spent=spent)
    order, stage = fused(fusing, through, ada)
    assert minutes_left(order, stage) == left


def test_before_the_first_tap_the_clock_is_believed(fusing, ada):
    Stage.objects.filter(order=fusing, kind="fuse").update(spent=50)
    order = Order.objects.with_state().get(pk=fusing.pk)
    assert minutes_left(order, order.stages.get(kind="fuse")) == 22


def test_the_plan_and_the_card_ask_for_what_the_pile_still_takes(fusing, ada, shop):
    before = left_of(Order.objects.with_state().get(pk=fusing.pk), today=shop.today()).minutes
    order, _ = fused(fusing, 7, ada)
    planned = {stage.kind: stage.minutes for stage in workload(shop, today=shop.today()).stages}
    assert planned["fuse"] == 30
    assert before - left_of(order, today=shop.today()).minutes == 42


def test_a_pile_that_is_through_leaves_nothing(fusing, ada):
    order, stage = fused(fusing, 12, ada)
    assert stage.done_at is not None
    assert minutes_left(order, stage) == 0
