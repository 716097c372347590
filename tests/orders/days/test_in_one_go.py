"""Stages of several quilts done in one go are one stage in the plan, on Today, and when they are done."""

from datetime import timedelta

import pytest
from django.utils import timezone

from orders.bench import taps, work
from orders.days.calendar import workload
from orders.days.in_one_go import apart_deeds, join_deeds, may_join, share_minutes, with_it, words_of_batch
from orders.days.replanning import replan, take_back
from orders.models import Order, Stage, WorkingWeek
from planner.schedule import Wait
from tests.orders.workbench import another, cut

pytestmark = pytest.mark.django_db


@pytest.fixture
def loads(shop, aunt, ada):
    made = []
    for number, minutes in enumerate((30, 60, 90)):
        order = Order.objects.open(title=f"Quilt {number}", customer=aunt, by=ada)
        made.append(Stage.objects.create(order=order, kind="wash", position=0, minutes=minutes))
        Stage.objects.create(order=order, kind="quilt", position=1, minutes=100)
    return made


def test_a_batch_is_one_stage_that_all_its_quilts_wait_for(shop, loads, ada):
    before = workload(shop, today=shop.today())
    assert may_join(loads[0]) == loads[1:]
    join_deeds(loads[0], loads[1:], by=ada)
    after = workload(shop, today=shop.today())
    assert len(after.stages) == len(before.stages) - 2
    one = next(stage for stage in after.stages if stage.kind == "wash")
    assert one.minutes == 180
    assert sum(stage.minutes for stage in after.stages) == sum(stage.minutes for stage in before.stages)
    waits = [wait for wait in before.waits if wait.before.endswith(" wash")]
    assert {Wait(one.id, wait.after, wait.days) for wait in waits} <= set(after.waits)


def test_it_is_told_taken_back_and_undone(shop, loads, ada):
    made = replan(shop, "One go", lambda: join_deeds(loads[0], loads[1:2], by=ada), by=ada)
    first = Stage.objects.get(pk=loads[0].pk)
    assert words_of_batch(first) == f", in one go with No. {loads[1].order.number}"
    assert may_join(first) == []
    take_back(made, by=ada)
    assert not Stage.objects.exclude(batch="").exists()
    join_deeds(loads[0], loads[1:], by=ada)
    apart_deeds(Stage.objects.get(pk=loads[0].pk), by=ada)
    assert not Stage.objects.exclude(batch="").exists()


def test_done_once_is_done_for_all_and_the_minutes_are_shared_out(shop, loads, ada):
    join_deeds(loads[0], loads[1:], by=ada)
    now = timezone.now()
    work.start(Stage.objects.get(pk=loads[0].pk), by=ada, now=now)
    work.finish(Stage.objects.get(pk=loads[0].pk), by=ada, now=now + timedelta(minutes=120))
    washed = Stage.objects.filter(kind="wash").order_by("pk")
    assert [(stage.spent, stage.clock, bool(stage.done_at)) for stage in washed] == [
        (20, "", True), (40, "", True), (60, "", True)
    ]  # fmt: skip
    assert with_it(washed[0]) == []


def test_two_different_pins_keep_a_batch_apart(shop, loads, ada):
    join_deeds(loads[0], loads[1:], by=ada)
    for stage, days in zip(loads, (1, 2), strict=False):
        Stage.objects.filter(pk=stage.pk).update(pinned_for=shop.today() + timedelta(days=days))
    stages = [stage for stage in workload(shop, today=shop.today()).stages if stage.kind == "wash"]
    assert len(stages) == 3


def test_only_washing_and_pressing_are_done_in_one_go(loads):
    assert may_join(Stage.objects.filter(kind="quilt").first()) == []


def test_shares_add_up(loads):
    assert share_minutes(loads, 100) == [16, 34, 50]
    assert sum(share_minutes(loads, 7)) == 7


def test_the_bench_offers_it_and_says_it(client, shop, loads, ada):
    WorkingWeek.objects.update(minutes=[300] * 7)  # whatever weekday it is
    client.force_login(ada)
    address, bench = f"/stages/{loads[0].pk}/batch/", f"/quilts/{loads[0].order.number}/bench/"
    assert "In one go with" in client.get(bench).content.decode()
    client.post(address, {})
    assert not Stage.objects.exclude(batch="").exists()
    client.post(address, {"with": [str(loads[1].pk), "999", "x"]})
    seen = client.get(bench).content.decode()
    assert f"in one go with No. {loads[1].order.number}" in seen
    assert f"in one go with No. {loads[1].order.number}" in client.get("/").content.decode()
    client.post(address)
    assert not Stage.objects.exclude(batch="").exists()


@pytest.fixture
def at_the_iron(order, twelve_shirts, shop, shelf, ada):
    """Return the presses of two quilts, cut and to be fused in one go."""
    quilts = [cut(order, shop, ada), another(order, shop, ada, 2)]
    presses = [quilt.stages.get(kind="fuse") for quilt in quilts]
    join_deeds(presses[0], presses[1:], by=ada)
    return quilts, presses


def blocks_of(*quilts):
    return [block.pk for quilt in quilts for block in quilt.blocks.exclude(piece=None)]


def clocked(stage, ada, minutes):
    began = timezone.now() - timedelta(minutes=minutes)
    work.start(Stage.objects.get(pk=stage.pk), by=ada, now=began)


def test_a_pile_of_two_quilts_at_the_iron_finishes_the_go_and_shares_its_minutes(at_the_iron, ada):
    quilts, presses = at_the_iron
    clocked(presses[0], ada, 90)
    taps.apply("one pile", "fuse", blocks_of(*quilts), by=ada)
    done = [Stage.objects.get(pk=press.pk) for press in presses]
    assert all(press.done_at and press.clock == Stage.Clock.RAN and not press.batch for press in done)
    assert sum(press.spent for press in done) == pytest.approx(90, abs=1)
    assert [press.spent for press in done] == share_minutes(done, sum(press.spent for press in done))


def test_a_quilt_of_the_go_whose_blocks_were_not_tapped_is_not_called_pressed(at_the_iron, ada):
    (first, second), presses = at_the_iron
    clocked(presses[0], ada, 90)
    work.do_pile(first, "fuse", blocks_of(first), by=ada)
    left = Stage.objects.get(pk=presses[1].pk)
    assert Stage.objects.get(pk=presses[0].pk).done_at
    assert (left.done_at, left.spent) == (None, 0)
    assert set(second.blocks.exclude(piece=None).values_list("progress", flat=True)) == {"cut"}
    work.do_pile(second, "fuse", blocks_of(second), by=ada)
    done = [Stage.objects.get(pk=press.pk) for press in presses]
    assert all(press.done_at and 0 < press.spent < 90 and not press.batch for press in done)


def test_a_stage_of_the_go_that_has_no_blocks_is_done_with_the_pile(
    order, twelve_shirts, shop, shelf, ada, aunt
):
    mended = Order.objects.open(title="Mended", customer=aunt, by=ada)
    patch = Stage.objects.create(order=mended, kind="fuse", position=0, minutes=20)
    first = cut(order, shop, ada)
    join_deeds(first.stages.get(kind="fuse"), [patch], by=ada)
    work.do_pile(first, "fuse", blocks_of(first), by=ada)
    patch.refresh_from_db()
    assert patch.done_at is not None
    assert patch.batch == ""


def test_two_clocks_of_one_go_keep_their_own_minutes(at_the_iron, ada, bo):
    (first, second), presses = at_the_iron
    clocked(presses[0], ada, 90)
    work.do_pile(first, "fuse", blocks_of(first), by=ada)
    clocked(presses[1], ada, 30)
    work.do_pile(second, "fuse", blocks_of(second), by=ada)
    assert [round(Stage.objects.get(pk=press.pk).spent, -1) for press in presses] == [90, 30]
