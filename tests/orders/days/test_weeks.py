"""Weeks: hours there are, hours planned, and hours wanted beyond both."""

from datetime import date, timedelta

import pytest

from orders.customer.telling import state_of
from orders.days.line_up import line_up
from orders.days.weeks import days_of_room, free_in_months, look_ahead, minutes_over, month_in_words
from orders.models import DayOff, Enquiry, Order, Stage
from planner.schedule import Due, Person, Workload
from planner.schedule import Stage as PlannedStage

MONDAY = date(2027, 5, 3)


def workload(dues, minutes=300, days=60):
    """One person at the bench five hours on weekdays; each due is (order, day, minutes of work)."""
    week = (minutes,) * 5 + (0, 0)
    person = Person("Ada", (week * 10)[:days], (540,) * days)
    stages = tuple(PlannedStage(f"{name} cut", name, "cut", work, ("Ada",)) for name, _, work in dues)
    return Workload(MONDAY, days, (person,), (), tuple(Due(name, day) for name, day, _ in dues), stages, ())


def test_what_is_wanted_in_a_week_is_compared_with_the_hours_until_then():
    # 25 h a week: 24 + 10 h by the first Sunday is 9 h over; the second week holds what is wanted by then
    work = workload([("a", 4, 1440), ("b", 6, 600), ("c", 13, 60)])
    assert minutes_over(work, MONDAY, 3) == [540, 0, 0]


def test_being_over_is_told_once_in_the_week_it_begins():
    work = workload([("a", 4, 2000), ("b", 11, 3000)])
    assert minutes_over(work, MONDAY, 3) == [500, 1500, 0]


def test_free_hours_before_are_taken_into_account():
    assert minutes_over(workload([("a", 11, 2900)]), MONDAY, 3) == [0, 0, 0]


def test_what_is_overdue_is_wanted_now():
    assert minutes_over(workload([("a", -5, 400)]), MONDAY, 2) == [100, 0]


@pytest.mark.parametrize(
    ("free", "there", "words"),
    [
        (660, 6000, "May is full but for 11 hours."),
        (60, 6000, "May is full but for 1 hour."),
        (59, 6000, "May is full."),
        (3000, 6000, "May has 50 hours free."),
        (0, 0, "May has no bench hours."),
    ],
)
def test_a_month_is_told_in_words(free, there, words):
    assert month_in_words(date(2027, 5, 1), free, there) == words


@pytest.fixture
def sewing(order, shop):
    Stage.objects.create(order=order, kind="bind", position=0, minutes=600)
    return order


@pytest.mark.django_db
def test_weeks_begin_on_monday_and_hold_what_is_planned(sewing, shop):
    ahead = look_ahead(shop, today=shop.today(), weeks=6)
    assert [week.monday.weekday() for week in ahead.weeks] == [0] * 6
    assert sum(week.planned for week in ahead.weeks) == 600
    assert [week.capacity for week in ahead.weeks[1:]] == [1500] * 5
    assert ahead.tightest is None


@pytest.mark.django_db
def test_a_day_off_takes_its_hours_away(sewing, shop, ada):
    monday = shop.today() + timedelta(days=7 - shop.today().weekday())
    DayOff.objects.create(day=monday)
    DayOff.objects.create(day=monday + timedelta(days=1), person=ada)
    ahead = look_ahead(shop, today=shop.today(), weeks=3)
    assert ahead.weeks[1].capacity == 900


@pytest.mark.django_db
def test_a_penciled_place_fills_its_week_and_is_not_a_quilt(shop, ada):
    asked = Enquiry.objects.create(
        name="A coach", reach="555 0101", minutes=120, needed_by=shop.today() + timedelta(days=60)
    )
    asked.pencil_in(days=7, on=shop.today(), by=ada)
    shares = [share for week in look_ahead(shop, today=shop.today(), weeks=3).weeks for share in week.shares]
    assert [(share.minutes, share.is_penciled) for share in shares] == [(120, True)]


@pytest.mark.django_db
def test_room_is_what_may_be_waited_without_costing_a_day(sewing, shop):
    ahead = look_ahead(shop, today=shop.today(), weeks=6)
    room = days_of_room(ahead, str(sewing))
    # two bench days of work, wanted in 70 days with a cushion of 2
    assert 60 <= room <= 68
    assert days_of_room(ahead, "No. 99 nothing") is None


@pytest.mark.django_db
def test_there_is_no_room_where_the_day_is_already_missed(sewing, shop):
    Order.objects.update(needed_by=shop.today() - timedelta(days=1))
    assert days_of_room(look_ahead(shop, today=shop.today(), weeks=6), str(sewing)) == 0


@pytest.mark.django_db
def test_free_hours_of_a_month_are_those_that_are_not_planned(sewing, shop):
    ahead = look_ahead(shop, today=shop.today(), weeks=6)
    months = free_in_months(ahead, 3)
    assert [first.day for first, _, _ in months] == [1, 1, 1]
    assert all(0 <= free <= there for _, free, there in months)
    assert months[2][1] == months[2][2]


@pytest.mark.django_db
@pytest.mark.parametrize("weekday", [0, 3])  # with the days kept free, a Monday's work is due the week before
def test_orders_wanted_on_one_day_stand_together(aunt, ada, shop, weekday):
    today = shop.today()
    day = today + timedelta(days=35 + (weekday - today.weekday()) % 7)
    for number in range(3):
        made = Order.objects.open(
            title=f"Quilt {number}", customer=aunt, by=ada, needed_by=day, place="Harrow Bay"
        )
        Stage.objects.create(order=made, kind="bind", position=0, minutes=4000)
    Order.objects.open(title="Soon", customer=aunt, by=ada, needed_by=shop.today() + timedelta(days=9))
    Order.objects.open(title="Some day", customer=aunt, by=ada)
    resting = Order.objects.open(title="Resting", customer=aunt, by=ada, needed_by=day)
    resting.pause(why="until he writes", by=ada)
    ahead = look_ahead(shop, today=shop.today(), weeks=26)
    orders = list(Order.objects.in_the_workroom().with_state().soonest_first())
    found = line_up(orders, ahead, today=shop.today(), minutes_a_day=200)
    assert [card.order.title for card in found.soon] == ["Soon"]
    (bundle,) = found.bundles
    assert (bundle.day, bundle.place, len(bundle.cards)) == (day, "Harrow Bay", 3)
    assert bundle.tight.over > 0
    assert {card.order.title for card in found.later} == {"Some day", "Resting"}
    assert state_of(found.later[0].order, today=shop.today()).shape == "rest"


@pytest.mark.django_db
def test_a_memorial_past_its_day_has_no_gauge(sewing, shop):
    Order.objects.update(memorial=True, needed_by=shop.today() - timedelta(days=3))
    orders = list(Order.objects.with_state())
    ahead = look_ahead(shop, today=shop.today(), weeks=4)
    (card,) = line_up(orders, ahead, today=shop.today(), minutes_a_day=200).soon
    assert card.shows_gauge is False
