"""The calendar: overtime, holidays, the hours planned, visits, what is under way, who works outside."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from orders.models import DayOff, Event, Machine, Outside, Overtime, Shop, Stage, Trip, Visit

pytestmark = pytest.mark.django_db
ADDRESS = "/weeks/calendar/"


@pytest.fixture
def signed_in(client, ada):
    client.force_login(ada)
    return client


@pytest.fixture
def next_monday(shop):
    return shop.today() + timedelta(days=7 - shop.today().weekday())


@pytest.fixture
def quilter(shop):
    return Outside.objects.create(kind="quilter", name="The long arm", lead_days=14, transit_days=2)


def page(client):
    answer = client.get(ADDRESS)
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split())


def refused(answer, fault):
    assert answer.status_code == 422
    return fault in answer.content.decode()


def test_an_empty_calendar_says_what_it_is_for(signed_in, shop):
    seen = page(signed_in)
    assert "Nobody is expected." in seen
    assert "100 % of everybody’s hours are planned" in seen
    assert "From 10 finished quilts on, your own share is planned." in seen


def test_overtime_is_entered_told_and_taken_out(signed_in, ada, shop, next_monday):
    sent = {"person": ada.pk, "day": next_monday, "hours": "1:30"}
    assert signed_in.post("/weeks/calendar/overtime/", sent).status_code == 302
    assert Overtime.objects.get().minutes == 90
    assert "1 h 30 more" in page(signed_in).replace("\N{NO-BREAK SPACE}", " ")
    one = Overtime.objects.get()
    for _ in range(2):
        assert signed_in.post(f"/weeks/calendar/overtime/{one.pk}/removal/").status_code == 302
    assert not Overtime.objects.exists()


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"hours": "many"}, "Give hours, such as 2 or 1:30."),
        ({"hours": "0"}, "12 hours at most"),
        ({"hours": "13"}, "12 hours at most"),
        ({"day": "2020-01-01"}, "That day is past"),
        ({"person": ""}, "Say who stays longer."),
    ],
)
def test_bad_overtime_comes_back_with_the_fault(signed_in, ada, shop, next_monday, change, fault):
    sent = {"person": ada.pk, "day": next_monday, "hours": "2", **change}
    assert refused(signed_in.post("/weeks/calendar/overtime/", sent), fault)
    assert not Overtime.objects.exists()


def test_holidays_are_kept_but_for_those_that_are_worked(signed_in, shop):
    signed_in.post("/weeks/calendar/holidays/", {"keeps": "on", "region": ""})
    shop.refresh_from_db()
    assert shop.keeps_holidays
    assert shop.worked_holidays == []
    today = shop.today()
    year = today.year + ((today.month, today.day) > (7, 4))  # of the next one to come
    independence = f"{year}-07-04"
    listed = [day.isoformat() for day, _, _ in signed_in.get(ADDRESS).context["holidays"]]
    assert independence in listed
    signed_in.post(
        "/weeks/calendar/holidays/",
        {"keeps": "on", "region": "", "closed": [day for day in listed if day != independence]},
    )
    shop.refresh_from_db()
    assert shop.worked_holidays == [independence]


def test_a_region_nobody_knows_is_refused(signed_in, shop):
    answer = signed_in.post("/weeks/calendar/holidays/", {"keeps": "on", "region": "Nowhere"})
    assert refused(answer, "Choose a region from the list")
    assert not Shop.objects.get().keeps_holidays


def test_the_hours_planned_and_the_frame_are_kept(signed_in, shop):
    sent = {"planned_share": 80, "door_opens": "10:00", "door_closes": "17:30", "frames": 1}
    for _ in range(2):
        assert signed_in.post("/weeks/calendar/planned/", sent).status_code == 302
    kept = Shop.objects.get()
    assert (kept.planned_share, kept.door_opens, kept.door_closes) == (80, 600, 1050)
    assert Machine.objects.get().units == 1
    assert [step.machine for step in kept.shop_rules().steps if step.stage == "quilt"] == ["frame"]
    signed_in.post("/weeks/calendar/planned/", {**sent, "frames": 0})
    assert not Machine.objects.exists()
    assert {step.machine for step in Shop.objects.get().shop_rules().steps} == {None}


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"planned_share": 120}, "more than 100 per cent"),
        ({"planned_share": 5}, "30 per cent or more"),
        ({"door_closes": "09:00"}, "closes before it opens"),
    ],
)
def test_bad_hours_come_back_with_the_fault(signed_in, shop, change, fault):
    sent = {"planned_share": 80, "door_opens": "10:00", "door_closes": "17:30", "frames": "", **change}
    assert refused(signed_in.post("/weeks/calendar/planned/", sent), fault)
    assert Shop.objects.get().door_opens == 540


def a_visit(order, day):
    return {"kind": "collection", "order": order.pk, "day": day, "time": "16:30", "minutes": 20}


def test_a_visit_is_booked_once_moved_and_over(signed_in, order, shop, next_monday):
    for _ in range(2):
        assert signed_in.post("/weeks/calendar/visits/", a_visit(order, next_monday)).status_code == 302
    visit = Visit.objects.get()
    zone = ZoneInfo(shop.time_zone)
    assert visit.at == datetime(next_monday.year, next_monday.month, next_monday.day, 16, 30, tzinfo=zone)
    later = {"day": next_monday + timedelta(days=1), "time": "10:00"}
    signed_in.post(f"/weeks/calendar/visits/{visit.pk}/moment/", later)
    assert Visit.objects.get().at.astimezone(zone).hour == 10
    assert "collection, The aunt’s surprise" in page(signed_in)
    for _ in range(2):
        assert signed_in.post(f"/weeks/calendar/visits/{visit.pk}/coming/").status_code == 302
    assert Event.objects.filter(what="came").count() == 1
    assert signed_in.post(f"/weeks/calendar/visits/{visit.pk}/moment/", later).status_code == 404


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"time": "21:00"}, "The door is open from 9:00\N{NO-BREAK SPACE}am to 6:00\N{NO-BREAK SPACE}pm."),
        ({"day": "2020-01-01"}, "That day is past"),
        ({"order": "999"}, "Choose a quilt that is in the workroom."),
        ({"minutes": "1"}, "Give 5 minutes or more."),
    ],
)
def test_a_bad_visit_comes_back_with_the_fault(signed_in, order, next_monday, change, fault):
    sent = a_visit(order, next_monday) | change
    assert refused(signed_in.post("/weeks/calendar/visits/", sent), fault)
    assert not Visit.objects.exists()


def test_a_time_that_the_clocks_skip_is_refused(signed_in, order, shop):
    # US clocks go forward on the second Sunday of March at 2:00 (common knowledge; zoneinfo holds it)
    Shop.objects.update(door_opens=0, door_closes=1439)
    year = shop.today().year + 1
    first = datetime(year, 3, 1)
    sunday = first + timedelta(days=(6 - first.weekday()) % 7 + 7)
    sent = a_visit(order, sunday.date()) | {"time": "02:30"}
    assert refused(signed_in.post("/weeks/calendar/visits/", sent), "clocks go forward")


def test_what_is_under_way_holds_back_the_work_that_waits_for_it(signed_in, order, quilter, shop):
    Stage.objects.create(order=order, kind="bind", position=0, minutes=60)
    sent = {"order": order.pk, "outside": quilter.pk, "what": "the top", "waits": "bind",
            "sent_on": shop.today(), "expected_on": ""}  # fmt: skip
    for _ in range(2):
        assert signed_in.post("/weeks/calendar/trips/", sent).status_code == 302
    trip = Trip.objects.get()
    assert trip.expected_on == shop.today() + timedelta(days=18)
    assert order.stages.get().waits_until == trip.expected_on
    assert "The top, No. 1 The aunt’s surprise" in page(signed_in)
    sooner = shop.today() + timedelta(days=5)
    signed_in.post(f"/weeks/calendar/trips/{trip.pk}/expected/", {"expected_on": sooner})
    assert order.stages.get().waits_until == sooner
    for _ in range(2):
        assert signed_in.post(f"/weeks/calendar/trips/{trip.pk}/arrival/").status_code == 302
    assert order.stages.get().waits_until is None


def test_a_wait_beyond_the_days_planned_is_refused(signed_in, order, quilter, shop):
    sent = {"order": order.pk, "outside": quilter.pk, "what": "the top", "waits": "bind",
            "sent_on": shop.today(), "expected_on": shop.today() + timedelta(days=900)}  # fmt: skip
    assert refused(signed_in.post("/weeks/calendar/trips/", sent), "beyond the days that are planned")
    assert not Trip.objects.exists()


def test_somebody_outside_is_written_down_with_a_closure(signed_in, shop):
    sent = {"kind": "supplier", "name": "Black backing", "reach": "", "lead_days": 5, "transit_days": 2,
            "first": "2027-07-01", "last": "2027-07-10"}  # fmt: skip
    assert signed_in.post("/weeks/calendar/outside/new/", sent).status_code == 302
    made = Outside.objects.get()
    assert made.closed == [["2027-07-01", "2027-07-10"]]
    assert "Black backing" in page(signed_in)
    signed_in.post(f"/weeks/calendar/outside/{made.pk}/closed/2027-07-01/removal/")
    assert Outside.objects.get().closed == []
    signed_in.post(f"/weeks/calendar/outside/{made.pk}/leave/")
    assert "Black backing" not in page(signed_in).split("is off the list.")[-1]


def test_a_closure_that_ends_before_it_begins_is_refused(signed_in, shop):
    sent = {"kind": "quilter", "name": "A", "lead_days": 5, "transit_days": 0,
            "first": "2027-07-10", "last": "2027-07-01"}  # fmt: skip
    assert refused(signed_in.post("/weeks/calendar/outside/new/", sent), "Turn them round")
    assert not Outside.objects.exists()


def test_signed_out_and_helpers_stay_outside(client, shop, bo):
    assert client.get(ADDRESS).status_code == 302
    client.force_login(bo)
    assert client.get(ADDRESS).status_code == 403


def test_get_changes_nothing(signed_in, shop):
    for end in ("overtime/", "holidays/", "planned/", "visits/", "trips/", "feed/", "feed/closing/"):
        assert signed_in.get(f"{ADDRESS}{end}").status_code == 405


def test_no_overtime_on_a_day_off(signed_in, ada, bo, next_monday):
    sent = {"person": str(ada.pk), "day": next_monday.isoformat(), "hours": "2"}
    off = DayOff.objects.create(person=ada, day=next_monday)
    assert refused(signed_in.post("/weeks/calendar/overtime/", sent), "is off that day")
    DayOff.objects.filter(pk=off.pk).update(person=None)
    assert refused(signed_in.post("/weeks/calendar/overtime/", sent), "The shop is closed that day.")
    DayOff.objects.filter(pk=off.pk).update(person=bo)
    assert signed_in.post("/weeks/calendar/overtime/", sent).status_code == 302


def test_the_address_for_a_phone_is_whole_and_says_from_where_it_is_read(signed_in, shop):
    signed_in.post("/weeks/calendar/feed/")
    shown = page(signed_in)
    assert "http://testserver/calendar/" in shown
    assert "known only at home" in shown
