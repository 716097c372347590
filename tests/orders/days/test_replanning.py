"""A change of the calendar says what it moved and why, and is taken back whole."""

from datetime import timedelta

import pytest

from orders.days.calendar_changes import (
    close_days,
    close_week,
    is_closed,
    keep_holidays,
    keep_hours,
    open_week,
    work_longer,
)
from orders.days.replanning import moved_in_words, plan_now, replan, stage_deeds, take_back, trip_deeds
from orders.models import DayOff, Event, Machine, Outside, Overtime, Replan, Shop, Stage, Trip

pytestmark = pytest.mark.django_db


@pytest.fixture
def sewing(order):
    Stage.objects.create(order=order, kind="bind", position=0, minutes=600)
    return order


@pytest.fixture
def monday(shop):
    return shop.today() + timedelta(days=7 - shop.today().weekday())


def ready(shop, order):
    work, table = plan_now(shop)
    return work.date_of(table.finish[str(order)])


def test_a_fever_names_the_quilt_that_moves_and_its_two_days(sewing, shop, ada):
    before = ready(shop, sewing)
    made = close_days(shop, shop.today(), before, person=ada, by=ada, why="ill")
    after = ready(shop, sewing)
    assert after > before
    assert made.moved == [{"order": str(sewing), "before": before.isoformat(), "now": after.isoformat()}]
    assert (len(made.later), len(made.sooner)) == (1, 0)
    assert made.why.startswith("Ada is ill ")
    assert f"{sewing} is ready " in moved_in_words(made)
    assert made.stages_moved == 1


def test_taking_it_back_gives_the_days_back_once(sewing, shop, ada, monday):
    kept = DayOff.objects.create(day=monday, person=ada)
    before = ready(shop, sewing)
    made = close_days(shop, shop.today(), monday, person=ada, by=ada, why="ill")
    assert take_back(made, by=ada) is True
    assert take_back(made, by=ada) is False
    assert list(DayOff.objects.all()) == [kept]
    assert ready(shop, sewing) == before
    assert Event.objects.filter(what="change of plan taken back").count() == 1


def test_days_that_were_off_already_are_no_change(sewing, shop, ada, monday):
    assert close_days(shop, monday, monday, person=ada, by=ada) is not None
    assert close_days(shop, monday, monday, person=ada, by=ada) is None
    assert Replan.objects.count() == 1


def test_overtime_is_added_and_taken_back_to_what_it_was(sewing, shop, ada, monday):
    work_longer(shop, ada, monday, minutes=60, by=ada)
    second = work_longer(shop, ada, monday, minutes=30, by=ada)
    assert Overtime.objects.get().minutes == 90
    take_back(second, by=ada)
    assert Overtime.objects.get().minutes == 60


def test_a_stage_gets_its_minutes_back(sewing, shop, ada):
    stage = sewing.stages.get()
    made = replan(shop, "It takes longer", lambda: stage_deeds(stage, by=ada, minutes=900), by=ada)
    assert sewing.stages.get().minutes == 900
    take_back(made, by=ada)
    assert sewing.stages.get().minutes == 600


def test_a_week_is_closed_as_a_whole_and_opened_again(sewing, shop, ada, monday):
    made = close_week(shop, monday, by=ada)
    assert len(made.deeds) == 7
    assert is_closed(monday)
    assert close_week(shop, monday, by=ada) is None
    assert open_week(monday, by=ada) == 7
    assert open_week(monday, by=ada) == 0
    assert not is_closed(monday)


def test_of_the_week_that_runs_only_what_is_left_is_closed(sewing, shop, ada):
    this_monday = shop.today() - timedelta(days=shop.today().weekday())
    close_week(shop, this_monday, by=ada)
    assert min(DayOff.objects.values_list("day", flat=True)) == shop.today()


def test_nothing_moves_where_there_is_no_work(shop, ada, monday):
    made = close_days(shop, monday, monday, person=None, by=ada)
    assert moved_in_words(made) == "Nothing else moves."


def hours(shop, ada, **facts):
    facts = {"frames": 0, "planned_share": 100, "door_opens": 540, "door_closes": 1080} | facts
    return keep_hours(Shop.objects.get(), by=ada, **facts)


def test_a_smaller_share_of_the_hours_tells_what_it_moves_and_is_taken_back(sewing, shop, ada):
    before = ready(shop, sewing)
    made = hours(shop, ada, planned_share=50, frames=1)
    assert made.why == "50 % of the hours are planned"
    assert [each["order"] for each in made.later] == [str(sewing)]
    assert hours(shop, ada, planned_share=50, frames=1) is None
    take_back(made, by=ada)
    assert not Machine.objects.exists()
    assert {step.machine for step in Shop.objects.get().shop_rules().steps} == {None}
    assert ready(Shop.objects.get(), sewing) == before


def test_keeping_holidays_replans_and_working_them_again_is_one_tap(sewing, shop, ada):
    made = keep_holidays(shop, keeps=True, region="", by=ada, days=(), worked=[])
    assert made.why == "Public holidays are kept"
    assert Shop.objects.get().keeps_holidays
    take_back(made, by=ada)
    assert not Shop.objects.get().keeps_holidays


def test_cloth_expected_later_moves_what_waits_for_it_and_back(sewing, shop, ada):
    outside = Outside.objects.create(name="A mill", lead_days=5)
    today = shop.today()
    trip = Trip.objects.send(
        sewing, outside=outside, expected=today + timedelta(days=3), by=ada,
        what="backing", waits="bind", sent_on=today,
    )  # fmt: skip
    before = ready(shop, sewing)
    later = today + timedelta(days=40)
    made = replan(shop, "Backing is late", lambda: trip_deeds(trip, later, by=ada), by=ada)
    assert [each["order"] for each in made.later] == [str(sewing)]
    take_back(made, by=ada)
    assert ready(shop, sewing) == before


def test_one_quilt_more_than_are_named_is_one():
    moved = [
        {"order": f"No. {each} A quilt", "before": "2027-05-12", "now": "2027-05-14"} for each in range(4)
    ]
    assert moved_in_words(Replan(moved=moved[:3])).endswith("1 more quilt gets another day.")
    assert moved_in_words(Replan(moved=moved)).endswith("2 more quilts get another day.")
