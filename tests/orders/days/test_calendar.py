"""An order's stages in the shop's order, whatever stages the quilt does not have."""

import pytest

from orders.days.calendar import workload
from orders.models import Stage
from planner.problems import Limit
from planner.schedule import make_timetable

pytestmark = pytest.mark.django_db


def with_stages(order, *kinds):
    for position, kind in enumerate(kinds):
        Stage.objects.create(order=order, kind=kind, position=position, minutes=60)


def waits(shop):
    work = workload(shop, today=shop.today())
    return {(wait.before, wait.after): wait.days for wait in work.waits}


def test_what_follows_a_stage_the_quilt_does_not_have_waits_for_the_one_before_that(shop, order):
    with_stages(order, "trim", "join", "back", "quilt")  # no blocks to make up, and no border
    after = shop.shop_rules()
    steps = {step.stage: step for step in after.steps}
    assert "make up" in steps["join"].after
    assert "border" in steps["quilt"].after
    n = order.number
    assert waits(shop) == {(f"{n} trim", f"{n} join"): 0, (f"{n} join", f"{n} quilt"): 0,
                           (f"{n} back", f"{n} quilt"): 0}  # fmt: skip


def test_no_quilt_is_quilted_before_its_rows_are_joined(shop, order):
    with_stages(order, "quilt", "join", "trim")
    work = workload(shop, today=shop.today())
    begun = {}
    for stint in make_timetable(work, limit=Limit(effort=3)).stints:
        begun.setdefault(stint.stage.split()[1], (stint.day, stint.start))
    assert begun["trim"] < begun["join"] < begun["quilt"]


def test_days_of_waiting_on_the_way_through_are_added_up(shop, order):
    with_stages(order, "design", "fuse")  # cut comes three days after the layout, and is not there
    assert waits(shop) == {(f"{order.number} design", f"{order.number} fuse"): 3}


def test_what_is_done_is_waited_for_no_more(shop, order):
    with_stages(order, "trim", "make up", "join")
    Stage.objects.filter(kind__in=["trim", "make up"]).update(done_at=order.opened_at)
    assert waits(shop) == {}
