"""Own times: finished stages bend the next estimate; a forgotten clock is asked about once, counts half."""

from datetime import timedelta
from fractions import Fraction

import pytest
from django.utils import timezone

from orders.bench import work
from orders.days.own_times import forgotten_clocks, history, rules_with_history
from orders.models import Order, Stage
from orders.planning import brief_for, lay_out_work, plan_order
from planner.estimate import Done, StageMinutes, own_pace

pytestmark = pytest.mark.django_db


def done_stage(order, kind, *, spent, **more):
    facts = {"minutes": 100, "position": 0, "done_at": timezone.now()} | more
    return Stage.objects.create(order=order, kind=kind, spent=spent, **facts)


def another(aunt, ada, title):
    return Order.objects.open(title=title, customer=aunt, by=ada)


def test_what_stages_took_is_history_and_a_recalled_one_is_marked(order, aunt, ada):
    done_stage(order, "bind", spent=150)
    done_stage(another(aunt, ada, "B"), "bind", spent=120, clock="told")
    done_stage(another(aunt, ada, "C"), "bind", spent=100, clock="forgotten")
    done_stage(another(aunt, ada, "D"), "bind", spent=100, clock="not known")
    Stage.objects.create(order=order, kind="quilt", position=1, minutes=100, spent=60)
    assert history() == (Done("bind", 100, 150), Done("bind", 100, 120, recalled=True))


def test_a_slow_shop_is_told_more_minutes_and_from_how_many_jobs(
    shop, order, twelve_shirts, shelf, aunt, ada
):
    before = {each.stage: each for each in plan_order(order, shop).options[0].minutes}
    for number in range(5):
        done_stage(another(aunt, ada, f"Done {number}"), "bind", spent=200)
    after = {each.stage: each for each in plan_order(order, shop).options[0].minutes}
    assert after["bind"].jobs == 5
    assert after["bind"].minutes == pytest.approx(1.5 * before["bind"].minutes, abs=1)
    assert after["quilt"] == before["quilt"]
    assert brief_for(order, shop).shop.history == rules_with_history(shop).history


def test_own_times_are_held_against_the_standard_and_do_not_drift_back(shop, order, aunt, ada):
    for number in range(20):
        job = another(aunt, ada, f"Done {number}")
        factor = stage_factor("bind")
        lay_out_work(job, [StageMinutes("bind", round(100 * factor), 0.3, 0)], by=ada)
        Stage.objects.filter(order=job).update(spent=200, done_at=timezone.now())
    assert {99, 100, 101} >= set(Stage.objects.values_list("standard", flat=True))
    assert stage_factor("bind") == pytest.approx((5 + 20 * 2) / 25, abs=0.02)


def stage_factor(kind):
    return float(own_pace([each for each in history() if each.stage == kind]))


def test_a_stage_done_without_a_clock_counts_its_estimate_and_is_asked_about_once(shop, order, ada, bo):
    stage = Stage.objects.create(order=order, kind="bind", position=0, minutes=90)
    stage.finish(by=ada)
    assert (stage.spent, stage.clock) == (90, "forgotten")
    assert history() == ()
    assert forgotten_clocks(shop, ada) == [stage]
    assert forgotten_clocks(shop, bo) == []
    work.tell_minutes(stage, 140, by=ada)
    work.tell_minutes(stage, 10, by=ada)
    assert history() == (Done("bind", 90, 140, recalled=True),)
    assert forgotten_clocks(shop, ada) == []


def test_what_nobody_knows_is_asked_no_more_and_speaks_in_nothing(shop, order, ada):
    stage = Stage.objects.create(order=order, kind="bind", position=0, minutes=90)
    stage.finish(by=ada)
    work.tell_minutes(stage, None, by=ada)
    assert forgotten_clocks(shop, ada) == []
    assert history() == ()


def test_a_clock_left_running_overnight_is_asked_about_and_never_counted(shop, order, ada):
    stage = Stage.objects.create(order=order, kind="bind", position=0, minutes=90, spent=20)
    stage.start(by=ada, now=timezone.now() - timedelta(hours=30))
    assert forgotten_clocks(shop, ada) == [stage]
    stage.pause(by=ada)
    assert (stage.spent, stage.clock) == (20, "forgotten")
    assert forgotten_clocks(shop, ada) == [stage]
    work.tell_minutes(stage, 70, by=ada)
    stage.refresh_from_db()
    assert (stage.spent, stage.left, stage.started_at) == (70, 20, None)


def test_a_clock_that_ran_this_morning_is_not_asked_about(shop, order, ada):
    stage = Stage.objects.create(order=order, kind="bind", position=0, minutes=90)
    stage.start(by=ada)
    assert forgotten_clocks(shop, ada) == []
    stage.finish(by=ada, now=timezone.now() + timedelta(minutes=50))
    assert (stage.spent, stage.clock) == (50, "")


def test_a_helper_tells_only_their_own_minutes(shop, order, ada, bo):
    stage = Stage.objects.create(order=order, kind="bind", position=0, minutes=90)
    stage.finish(by=ada)
    with pytest.raises(work.NotYet, match="Only they or the owner"):
        work.tell_minutes(stage, 10, by=bo)
    stage.refresh_from_db()
    assert stage.clock == "forgotten"


def test_half_weight_moves_the_estimate_half_as_far(shop):
    clocked = own_pace([Done("bind", 100, 200)] * 10)
    told = own_pace([Done("bind", 100, 200, recalled=True)] * 10)
    assert (clocked, told) == (Fraction(25, 15), Fraction(15, 10))


def test_a_done_taken_back_takes_the_estimate_back_that_stood_for_a_clock(order, ada):
    stage = Stage.objects.create(order=order, kind="bind", position=0, minutes=90)
    stage.finish(by=ada)
    stage.undo(by=ada)
    stage.refresh_from_db()
    assert (stage.left, stage.clock) == (90, "")
