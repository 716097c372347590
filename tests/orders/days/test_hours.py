"""The hours the plan may use: the week, holidays, days off, the door, overtime, and the share planned."""

from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from orders.days.calendar import days_looked_at, workers, workload
from orders.days.hours import calendar_of, person_at_work
from orders.days.public_holidays import holidays_between, why_closed
from orders.days.weeks import look_ahead
from orders.models import DayOff, Machine, Outside, Overtime, Shop, Stage, Visit

MONDAY = date(2027, 6, 28)  # Independence Day is on the Sunday of this week, kept on the Monday after


@pytest.fixture
def hours(shop, ada):
    """Return Ada’s planned minutes for two weeks from a Monday."""

    def hours():
        people = list(workers())
        calendar = calendar_of(Shop.objects.get(), people, origin=MONDAY, days=14)
        return person_at_work(people[0], calendar).minutes

    return hours


@pytest.mark.django_db
def test_without_anything_the_week_is_as_it_is_set(hours):
    assert hours() == ((300,) * 5 + (0, 0)) * 2


@pytest.mark.django_db
def test_a_share_of_the_hours_is_planned_and_all_the_overtime(hours, ada):
    Shop.objects.update(planned_share=80)
    Overtime.objects.create(person=ada, day=MONDAY, minutes=60)
    Overtime.objects.create(person=ada, day=MONDAY + timedelta(days=5), minutes=90)
    assert hours()[:7] == (300, 240, 240, 240, 240, 90, 0)


@pytest.mark.parametrize("whole_shop", [False, True])
def test_a_day_off_is_off_whatever_overtime_was_entered_before(hours, ada, whole_shop):
    Overtime.objects.create(person=ada, day=MONDAY, minutes=60)
    DayOff.objects.create(person=None if whole_shop else ada, day=MONDAY)
    assert hours()[0] == 0


@pytest.mark.django_db
def test_public_holidays_are_closed_but_for_those_worked(hours):
    Shop.objects.update(keeps_holidays=True)
    assert hours()[7] == 0
    Shop.objects.update(worked_holidays=["2027-07-05"])
    assert hours()[7] == 300


@pytest.mark.django_db
def test_a_visit_takes_its_minutes_from_whoever_opens_the_door(hours, ada, bo):
    zone = ZoneInfo("America/New_York")
    Visit.objects.create(kind="look", at=datetime(2027, 6, 29, 16, 30, tzinfo=zone), minutes=40)
    Visit.objects.create(
        kind="look", at=datetime(2027, 6, 30, 16, 30, tzinfo=zone), minutes=40, opens_the_door=bo
    )
    # late in the evening there it is the next day already in UTC
    Visit.objects.create(kind="look", at=datetime(2027, 7, 1, 21, 0, tzinfo=zone), minutes=10)
    assert hours()[:5] == (300, 260, 300, 290, 300)


@pytest.mark.django_db
def test_days_off_are_for_one_or_for_all(hours, ada, bo):
    DayOff.objects.create(day=MONDAY, person=ada, why="ill")
    DayOff.objects.create(day=MONDAY + timedelta(days=1), person=bo, why="market")
    DayOff.objects.create(day=MONDAY + timedelta(days=2))
    assert hours()[:4] == (0, 300, 0, 300)


@pytest.mark.django_db
def test_a_month_without_hours_has_no_work_and_breaks_nothing(order, shop, ada):
    Stage.objects.create(order=order, kind="bind", position=0, minutes=600)
    ada.week.minutes = [0] * 7
    ada.week.save()
    ahead = look_ahead(shop, today=shop.today(), weeks=6)
    assert [week.capacity for week in ahead.weeks] == [0] * 6
    assert ahead.table.finish[str(order)] == ahead.work.days


@pytest.mark.django_db
def test_a_wait_longer_than_the_days_looked_at_is_planned_in_none_of_them(order, shop):
    far = shop.today() + timedelta(days=2000)
    Stage.objects.create(order=order, kind="bind", position=0, minutes=60, waits_until=far)
    ahead = look_ahead(shop, today=shop.today(), weeks=6)
    assert ahead.table.finish[str(order)] == ahead.work.days
    assert ahead.table.stints == ()


@pytest.mark.django_db
@pytest.mark.parametrize("days", [-40, 0])
def test_a_day_that_is_past_or_a_holiday_is_late_and_still_planned(order, shop, days):
    Shop.objects.update(keeps_holidays=True)
    order.needed_by = shop.today() + timedelta(days=days)
    order.save()
    Stage.objects.create(order=order, kind="bind", position=0, minutes=60)
    ahead = look_ahead(Shop.objects.get(), today=shop.today(), weeks=6)
    assert ahead.table.late[str(order)] > 0
    assert sum(stint.minutes for stint in ahead.table.stints) == 60


def test_the_days_looked_at_reach_well_beyond_the_last_due():
    assert days_looked_at(20) == 400
    assert days_looked_at(500) == 620
    assert days_looked_at(9000) == 1100


@pytest.mark.django_db
def test_a_quilt_too_long_for_the_frame_waits_for_the_outside_quilter(order, shop):
    shop.rules["quilter"] = {"over": "60 in", "rate": {"rate": "0.02", "per": "in2"}, "days": 14,
                             "minutes": 30, "least": None}  # fmt: skip
    shop.rules["steps"] = [
        {**step, "machine": "frame"} if step["stage"] == "quilt" else step for step in shop.rules["steps"]
    ]
    shop.save()
    Machine.objects.create(name="frame")
    for place, kind in enumerate(("quilt", "bind")):
        Stage.objects.create(order=order, kind=kind, position=place, minutes=60)
    work = workload(shop, today=shop.today())
    assert [(wait.after, wait.days) for wait in work.waits] == [("1 bind", 14)]
    assert [stage.machine for stage in work.stages] == [None, None]
    order.height = order.width
    order.save()
    work = workload(shop, today=shop.today())
    assert [wait.days for wait in work.waits] == [0]
    assert [stage.machine for stage in work.stages] == ["frame", None]


def test_days_outside_are_reckoned_round_their_closures_and_the_way():
    quilter = Outside(kind="quilter", name="A", lead_days=5, transit_days=2)
    assert quilter.back_by(date(2027, 7, 1)) == date(2027, 7, 10)
    quilter.closed = [["2027-07-04", "2027-07-06"]]
    assert quilter.back_by(date(2027, 7, 1)) == date(2027, 7, 13)
    supplier = Outside(kind="supplier", name="B", lead_days=5, transit_days=2)
    assert supplier.back_by(date(2027, 7, 1)) == date(2027, 7, 8)


# Federal holidays of the United States as its Office of Personnel Management lists them, from memory:
# days of the month follow from the law (5 U.S.C. 6103), such as the fourth Thursday of November.
@pytest.mark.parametrize(
    ("day", "name"),
    [
        (date(2023, 11, 23), "Thanksgiving"),
        (date(2024, 11, 28), "Thanksgiving"),
        (date(2025, 5, 26), "Memorial"),
        (date(2026, 9, 7), "Labor"),
        (date(2027, 1, 18), "Martin Luther King"),
        (date(2028, 7, 4), "Independence"),
    ],
)
def test_holidays_of_the_united_states(day, name):
    assert name in holidays_between("US", "", day, day)[day]


# Easter Sundays 2023-2028 by the Gregorian computus (Meeus, Jones, Butcher), reckoned here.
@pytest.mark.parametrize("year", range(2023, 2029))
def test_easter_monday_is_a_holiday_of_germany_and_follows_the_computus(year):
    monday = easter(year) + timedelta(days=1)
    assert monday in holidays_between("DE", "", monday, monday)


def easter(year):
    a, b, c = year % 19, year // 100, year % 100
    d = (19 * a + b - b // 4 - (b - (b + 8) // 25 + 1) // 3 + 15) % 30
    e = (32 + 2 * (b % 4) + 2 * (c // 4) - d - c % 4) % 7
    f = d + e - 7 * ((a + 11 * d + 22 * e) // 451) + 114
    return date(year, f // 31, f % 31 + 1)


def test_a_country_nobody_knows_has_no_holidays():
    assert holidays_between("ZZ", "", date(2027, 1, 1), date(2027, 12, 31)) == {}


def test_what_closes_the_shop_on_a_day_is_named(shop):
    # Christmas Day, 25 December, is a federal holiday of the United States (5 U.S.C. 6103; from memory)
    day = date(2026, 12, 25)
    shop.keeps_holidays = True
    assert why_closed(shop, day) == "Christmas Day"
    assert why_closed(shop, day - timedelta(days=2)) == ""
    shop.keeps_holidays = False
    assert why_closed(shop, day) == ""
    DayOff.objects.create(person=None, day=day)
    assert why_closed(shop, day) == "a day off"
