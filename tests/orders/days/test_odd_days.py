"""Days that calendars trip over: the week numbered 53, and the nights on which the clocks change."""

from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest

from orders.bench import work
from orders.days.calendar import workers
from orders.days.hours import calendar_of, person_at_work
from orders.days.weeks import look_ahead
from orders.models import Shop, Stage, Visit

pytestmark = pytest.mark.django_db
NEW_YORK = ZoneInfo("America/New_York")


def test_the_sheet_of_week_53_is_followed_by_that_of_the_first_week(client, shop, ada, monkeypatch):
    """ISO 8601: 2026 has 53 weeks; the last of them ends on Sun 3 Jan 2027."""
    monkeypatch.setattr(Shop, "today", lambda shop: date(2026, 12, 20))
    client.force_login(ada)
    last = client.get("/weeks/week/2027-01-02/").content.decode()
    assert "Week 53 of 2026" in last
    assert 'href="/weeks/week/2027-01-04/"' in last
    assert "Week 1 of 2027" in client.get("/weeks/week/2027-01-04/").content.decode()


def test_weeks_ahead_go_on_by_sevens_over_the_turn_of_the_year(order, shop):
    Stage.objects.create(order=order, kind="bind", position=0, minutes=3000)
    ahead = look_ahead(shop, today=date(2026, 12, 20), weeks=5)
    mondays = [week.monday for week in ahead.weeks]
    assert [monday.isocalendar()[:2] for monday in mondays] == [
        (2026, 51), (2026, 52), (2026, 53), (2027, 1), (2027, 2)
    ]  # fmt: skip
    assert {later - earlier for earlier, later in pairwise(mondays)} == {timedelta(days=7)}
    assert all(week.capacity == 1500 for week in ahead.weeks[1:])
    assert sum(week.planned for week in ahead.weeks) == 3000


@pytest.mark.parametrize(
    ("began", "minutes"),
    [(datetime(2027, 3, 14, 1, 30), 75), (datetime(2027, 11, 7, 0, 50), 130)],
)
def test_a_clock_that_runs_while_the_clocks_change_counts_the_minutes_that_passed(
    order, shop, ada, began, minutes
):
    """In March 1:30 to 3:45 by the wall is 75 minutes; in November 0:50 to 2:00 is 130."""
    stage = Stage.objects.create(order=order, kind="bind", position=0, minutes=60)
    start = began.replace(tzinfo=NEW_YORK).astimezone(UTC)
    end = start + timedelta(minutes=minutes)
    assert (end.astimezone(NEW_YORK).hour, end.astimezone(NEW_YORK).minute) in {(3, 45), (2, 0)}
    work.start(stage, by=ada, now=start)
    work.finish(Stage.objects.get(), by=ada, now=end)
    assert Stage.objects.get().spent == minutes


@pytest.mark.parametrize(
    ("monday", "other"), [(date(2027, 3, 15), date(2027, 3, 14)), (date(2027, 11, 8), date(2027, 11, 7))]
)
def test_a_visit_just_after_midnight_is_of_its_day_also_when_the_clocks_have_changed(
    shop, ada, monday, other
):
    """A quarter past midnight by the wall: by the hours of the week before it would be on another day."""
    at = datetime(monday.year, monday.month, monday.day, 0, 15, tzinfo=NEW_YORK)
    Visit.objects.create(kind="look", at=at.astimezone(UTC), minutes=25)
    people = list(workers())
    calendar = calendar_of(Shop.objects.get(), people, origin=other - timedelta(days=2), days=5)
    assert person_at_work(people[0], calendar).minutes == (300, 0, 0, 275, 300)


def test_the_last_hour_of_sunday_is_no_monday_when_the_clocks_went_back(shop, ada):
    """Sun 7 Nov 2027, 23:15 by the wall, is Monday in UTC; in the summer's hours it would be Monday, too."""
    at = datetime(2027, 11, 7, 23, 15, tzinfo=NEW_YORK)
    Visit.objects.create(kind="look", at=at.astimezone(UTC), minutes=25)
    people = list(workers())
    calendar = calendar_of(Shop.objects.get(), people, origin=date(2027, 11, 6), days=3)
    assert person_at_work(people[0], calendar).minutes[2] == 300
