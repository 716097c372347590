"""Where the points of a thread lie."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from orders.days.threads import END, START, date_bar, gauge, slack, way

DAY = date(2027, 4, 15)


def test_half_the_days_filled_with_work_is_half_the_thread():
    assert gauge(6, 12).work == (START + END) / 2
    assert not gauge(6, 12).late


def test_work_past_the_day_runs_past_the_knot():
    late = gauge(4, 1)
    assert late.late
    assert late.knot < late.work == END
    assert gauge(4, -3).late


def test_a_little_work_can_still_be_seen():
    assert gauge(0.1, 60).work >= START + 3


def test_waiting_past_its_room_puts_today_behind_the_day_it_cost():
    assert slack(9, 2).now < slack(9, 2).cost
    assert slack(9, 0).now == slack(9, 0).cost
    assert slack(9, -2).cost < slack(9, -2).now


def test_the_days_lie_on_the_bar_in_proportion():
    bar = date_bar(
        DAY,
        not_before=DAY + timedelta(10),
        fits=DAY + timedelta(20),
        promised=None,
        needed=DAY + timedelta(40),
    )
    assert bar.not_before - START == pytest.approx((END - START) / 4, abs=0.1)
    assert bar.fits == pytest.approx((END + START) / 2, abs=0.1)
    assert (bar.needed, bar.free_to, bar.late) == (END, END, False)


def test_a_day_that_comes_too_late_is_the_end_of_the_bar():
    bar = date_bar(DAY, not_before=DAY, fits=DAY + timedelta(20), promised=None, needed=DAY + timedelta(10))
    assert bar.late
    assert bar.needed < bar.fits == END


days = st.integers(-30, 400)


@given(days, days, days, days)
def test_no_point_ever_lies_outside_the_picture(a, b, c, d):
    at = [DAY + timedelta(n) for n in (a, b, c, d)]
    bar = date_bar(DAY, not_before=at[0], fits=at[1], promised=at[2], needed=at[3])
    places = [bar.not_before, bar.fits, bar.promised, bar.needed, bar.free_from, bar.free_to]
    places += [slack(abs(a), b).now, slack(abs(a), b).cost, gauge(abs(a), b).work, gauge(abs(a), b).knot]
    assert all(0 <= place <= 100 for place in places)


@pytest.mark.parametrize("done", range(6))
def test_a_way_has_a_knot_for_each_thing_done(done):
    assert len(way(5, done=done).knots) == done
    assert way(5, done=done).past.count("M") == min(done + 1, 5)


def test_what_is_done_altogether_has_no_thread_ahead():
    assert way(5, done=5).ahead == ""
