"""A day is the shop's day at any hour: past midnight elsewhere, on a Sunday, where clocks change."""

from datetime import UTC, date, datetime, time, timedelta
from itertools import product
from zoneinfo import ZoneInfo

import pytest

from orders.account.proposed import ready_since
from orders.customer import old_enquiries
from orders.customer.telling import state_of
from orders.days.replanning import change_told
from orders.days.weeks import look_ahead
from orders.demo.clock import standing_at
from orders.models import Enquiry, Order, Replan, Stage
from orders.models.asked_singly import midnight
from orders.templatetags.shop import long_day

pytestmark = pytest.mark.django_db
NEW_YORK = ZoneInfo("America/New_York")
FIRST, LAST = time(0, 5), time(23, 55)
# Moments in UTC, and the day by the wall in New York: five hours earlier, four in summer.
MOMENTS = {
    "2026-11-26T04:30": date(2026, 11, 25),  # the clocks went back 24 days ago
    "2026-11-29T23:30": date(2026, 11, 29),  # a Sunday
    "2027-01-01T04:40": date(2026, 12, 31),
    "2027-03-14T06:58": date(2027, 3, 14),  # two minutes before the clocks go forward
    "2027-03-15T03:30": date(2027, 3, 14),  # the end of the day of 23 hours
    "2027-07-05T03:59": date(2027, 7, 4),
    "2027-11-08T04:30": date(2027, 11, 7),  # the end of the day of 25 hours
    "2028-02-29T18:00": date(2028, 2, 29),
}


@pytest.fixture(autouse=True, params=MOMENTS.items(), ids=list(MOMENTS))
def day(request):
    """Let the clock stand at a moment, and return the day it is then in the shop."""
    moment, day = request.param
    with standing_at(datetime.fromisoformat(moment).replace(tzinfo=UTC)):
        yield day


def at(day, clock):
    return datetime.combine(day, clock, NEW_YORK)


def test_today_is_the_day_by_the_wall_and_its_week_comes_first(client, ada, shop, order, day):
    client.force_login(ada)
    assert f">{long_day(day)}</h1>" in client.get("/").content.decode()
    weeks = look_ahead(shop, today=shop.today(), weeks=2).weeks
    assert [week.monday for week in weeks] == [day - timedelta(days=day.weekday() - more) for more in (0, 7)]
    assert midnight() == at(day + timedelta(days=1), time.min)


def test_the_first_and_the_last_minutes_of_a_day_are_as_many_days_ago(order, shop, day):
    order.bags.clear()
    for days, clock in product((2, 9, 40, 140), (FIRST, LAST)):
        Order.objects.update(opened_at=at(day - timedelta(days=days), clock))
        state = state_of(Order.objects.with_state().get(), today=shop.today())
        assert state.words == f"Waiting for her bag, {days} days"
    Stage.objects.create(order=order, kind="finish", position=1, minutes=1)
    for days, clock in product((2, 9, 40, 140), (FIRST, LAST)):
        Stage.objects.update(done_at=at(day - timedelta(days=days), clock))
        assert ready_since(order, shop) == day - timedelta(days=days)


def test_a_change_is_told_for_two_days_and_an_enquiry_kept_for_ninety(shop, ada, day):
    shop.enquiries_kept_days = 90
    shop.save()
    for days, clock, is_over in ((1, FIRST, False), (1, LAST, False), (2, LAST, True)):
        change = Replan.objects.create(at=at(day - timedelta(days=days), clock), by=ada, why="Ada is ill")
        assert change_told(shop, days=2) == (None if is_over else change)
    for days, clock in ((90, FIRST), (91, LAST)):
        Enquiry.objects.create(name=f"{days} days", reach="x", came_at=at(day - timedelta(days=days), clock))
    old_enquiries.sweep(None)
    assert list(Enquiry.objects.known().values_list("name", flat=True)) == ["90 days"]
