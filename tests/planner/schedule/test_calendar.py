"""Working minutes by day."""

from datetime import date, timedelta

import holidays
import pytest

from planner.problems import BadInput
from planner.schedule import minutes_by_day

WEEK = (300, 300, 300, 300, 300, 0, 0)

# Observed federal holidays: 5 U.S.C. 6103; 2023 a personnel office's list, 2024 a federal court's list,
# 2026 the holidays package and two college calendars for 3 July.
FEDERAL = {
    2023: "0102 0116 0220 0529 0619 0704 0904 1009 1110 1123 1225",
    2024: "0101 0115 0219 0527 0619 0704 0902 1014 1111 1128 1225",
    2026: "0101 0119 0216 0525 0619 0703 0907 1012 1111 1126 1225",
}


def days_off(closed, year):
    origin = date(year, 1, 1)
    days = (date(year + 1, 1, 1) - origin).days
    open_week = minutes_by_day((60,) * 7, closed=closed, extra={}, origin=origin, days=days)
    return [origin + timedelta(days=n) for n, minutes in enumerate(open_week) if not minutes]


@pytest.mark.parametrize("year", FEDERAL)
def test_the_shop_is_closed_on_the_observed_federal_holidays(year):
    published = {date(year, int(day[:2]), int(day[2:])) for day in FEDERAL[year].split()}
    closed = {day for day, name in holidays.country_holidays("US", years=year).items() if day.weekday() < 5}
    assert set(days_off(closed, year)) == published


def observed_federal_holidays(year):
    """Return the weekdays off by 5 U.S.C. 6103(a) and (b), worked out from the statute."""

    def nth(month, weekday, n):
        first = date(year, month, 1)
        return first + timedelta(days=(weekday - first.weekday()) % 7 + 7 * (n - 1))

    last_of_may = max(date(year, 5, day) for day in range(25, 32) if date(year, 5, day).weekday() == 0)
    fixed = [date(year, 1, 1), date(year, 6, 19), date(year, 7, 4), date(year, 11, 11), date(year, 12, 25)]
    moved = [
        day + timedelta(days={5: -1, 6: 1}.get(day.weekday(), 0)) for day in (*fixed, date(year + 1, 1, 1))
    ]
    mondays = [nth(1, 0, 3), nth(2, 0, 3), last_of_may, nth(9, 0, 1), nth(10, 0, 2), nth(11, 3, 4)]
    return {day for day in (*moved, *mondays) if day.year == year}


@pytest.mark.parametrize("year", range(2023, 2029))
def test_the_closed_days_that_arrive_are_those_of_the_statute(year):
    closed = {day for day in holidays.country_holidays("US", years=year) if day.weekday() < 5}
    assert set(days_off(closed, year)) == observed_federal_holidays(year)


def test_independence_day_2026_is_kept_on_friday_the_third():
    closed = set(holidays.country_holidays("US", years=2026))
    third = minutes_by_day(WEEK, closed=closed, extra={}, origin=date(2026, 7, 2), days=5)
    assert third == (300, 0, 0, 0, 300)


def test_a_week_starts_on_monday_wherever_the_origin_lies():
    assert minutes_by_day(
        (1, 2, 3, 4, 5, 6, 7), closed=set(), extra={}, origin=date(2027, 4, 29), days=5
    ) == (4, 5, 6, 7, 1)


def test_overtime_is_added_on_open_and_on_closed_days():
    monday = date(2027, 4, 26)
    extra = {monday: 60, date(2027, 4, 27): 90}
    assert minutes_by_day(WEEK, closed={date(2027, 4, 27)}, extra=extra, origin=monday, days=3) == (
        360,
        90,
        300,
    )


def test_hours_taken_away_never_leave_less_than_none():
    monday = date(2027, 4, 26)
    assert minutes_by_day(WEEK, closed=set(), extra={monday: -400}, origin=monday, days=1) == (0,)


@pytest.mark.parametrize("week", [(300,) * 5, (300,) * 6 + (-1,)])
def test_a_week_of_other_than_seven_days_or_with_negative_minutes_is_refused(week):
    with pytest.raises(BadInput, match=r"^week"):
        minutes_by_day(week, closed=set(), extra={}, origin=date(2027, 4, 26), days=1)
