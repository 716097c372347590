"""Penciled places count, fall into the free hours, and never push a paid quilt."""

from datetime import timedelta

import pytest

from orders.days.calendar import PENCILED, workload
from orders.days.penciled import without_penciled
from orders.days.weeks import look_ahead, timetable_of
from orders.models import Enquiry, Order, Stage
from planner.problems import Limit
from planner.schedule import check_timetable, make_timetable

pytestmark = pytest.mark.django_db


def paid(aunt, ada, shop, title, minutes, days):
    made = Order.objects.open(
        title=title, customer=aunt, by=ada, needed_by=shop.today() + timedelta(days=days)
    )
    Stage.objects.create(order=made, kind="bind", position=0, minutes=minutes)
    return made


def penciled(ada, shop, minutes, days):
    made = Enquiry.objects.create(
        name=f"A coach, {days}",
        reach="555 0101",
        minutes=minutes,
        needed_by=shop.today() + timedelta(days=days),
    )
    made.pencil_in(days=7, on=shop.today(), by=ada)
    return made


def test_penciled_places_wanted_sooner_leave_every_paid_quilt_its_day(shop, aunt, ada):
    for title, minutes, days in (("A", 900, 9), ("B", 1500, 16), ("C", 600, 12)):
        paid(aunt, ada, shop, title, minutes, days)
    before = timetable_of(workload(shop, today=shop.today()))
    for minutes, days in ((600, 2), (3000, 5), (1200, 8)):
        penciled(ada, shop, minutes, days)
    after = timetable_of(workload(shop, today=shop.today()))
    assert {order: after.finish[order] for order in before.finish} == before.finish
    paid_stints = [stint for stint in after.stints if not stint.stage.startswith(PENCILED)]
    assert sorted(paid_stints, key=repr) == sorted(before.stints, key=repr)
    assert sum(stint.minutes for stint in after.stints if stint.stage.startswith(PENCILED)) == 4800


def test_they_take_free_hours_only_and_are_load_in_the_weeks(shop, aunt, ada):
    paid(aunt, ada, shop, "A", 900, 9)
    place = penciled(ada, shop, 600, 30)
    work = workload(shop, today=shop.today())
    table = timetable_of(work)
    assert not [fault for fault in check_timetable(work, table) if "same time" in fault.what]
    shares = [share for week in look_ahead(shop, today=shop.today(), weeks=8).weeks for share in week.shares]
    assert sum(share.minutes for share in shares if share.is_penciled) == 600
    assert {share.order for share in shares if share.is_penciled} == {f"{PENCILED} {place.pk}"}


def test_the_planner_itself_keeps_paid_days_when_penciled_work_is_searched_with_it(shop, aunt, ada):
    for title, minutes, days in (("A", 900, 3), ("B", 1500, 7)):
        paid(aunt, ada, shop, title, minutes, days)
    penciled(ada, shop, 2400, 1)
    work = workload(shop, today=shop.today())
    alone = make_timetable(without_penciled(work), limit=Limit(effort=20))
    whole = make_timetable(work, limit=Limit(effort=40))
    assert all(
        whole.finish[due.order] <= max(due.day, alone.finish[due.order]) for due in work.dues if due.firm
    )


def test_a_place_whose_day_is_over_takes_nothing(shop, aunt, ada):
    place = penciled(ada, shop, 600, 30)
    Enquiry.objects.filter(pk=place.pk).update(penciled_until=shop.today() - timedelta(days=1))
    assert workload(shop, today=shop.today()).stages == ()
