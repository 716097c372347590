"""Weeks: what fills them, and days off."""

from datetime import timedelta

import pytest

from orders.models import DayOff, Enquiry, Event, Order, Stage, WorkingWeek

pytestmark = pytest.mark.django_db


@pytest.fixture
def signed_in(client, ada):
    client.force_login(ada)
    return client


def page(client):
    answer = client.get("/weeks/")
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split())


def off(client, first, **more):
    return client.post(
        "/weeks/days-off/", {"first": first, "last": "", "person": "shop", "words": "", **more}
    )


def test_each_quilt_is_listed_with_the_day_it_is_ready(signed_in, order, shop):
    Stage.objects.create(order=order, kind="bind", position=0, minutes=600)
    seen = page(signed_in)
    assert "No. 1 The aunt’s surprise" in seen
    assert "10 h" in seen
    assert "hours free" in seen


def test_a_week_that_is_over_is_named_with_its_quilts(signed_in, order, shop):
    Stage.objects.create(order=order, kind="bind", position=0, minutes=6000)
    Order.objects.update(needed_by=shop.today() + timedelta(days=9))
    seen = page(signed_in)
    assert "over." in seen
    assert "takes more hours than there are: No. 1" in seen
    assert "after her day" in seen


def test_a_memorial_is_not_marked(signed_in, order, shop):
    Stage.objects.create(order=order, kind="bind", position=0, minutes=600)
    Order.objects.update(needed_by=shop.today(), memorial=True)
    assert "after her day" not in page(signed_in)


def test_a_penciled_place_is_listed_until_its_day(signed_in, shop, ada):
    asked = Enquiry.objects.create(name="A coach", reach="555 0101", minutes=600)
    asked.pencil_in(days=7, on=shop.today(), by=ada)
    seen = page(signed_in)
    assert "A coach, penciled until" in seen
    assert "555 0101" not in seen


def test_days_off_are_taken_once_and_given_back(signed_in, shop, ada):
    first = shop.today() + timedelta(days=7)
    last = first + timedelta(days=2)
    for _ in range(2):
        assert off(signed_in, first, last=last, person=ada.pk, words="The dentist").url == "/weeks/"
    assert DayOff.objects.count() == 3
    assert Event.objects.filter(what="days off").count() == 1
    assert "The dentist" in page(signed_in)
    one = DayOff.objects.first()
    for _ in range(2):
        assert signed_in.post(f"/weeks/days-off/{one.pk}/removal/").url == "/weeks/"
    assert DayOff.objects.count() == 2


def test_the_whole_shop_is_off_when_nobody_is_named(signed_in, shop):
    off(signed_in, shop.today() + timedelta(days=1))
    assert DayOff.objects.get().person is None


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"first": ""}, "Give the first day."),
        ({"first": "soon"}, "Give a day, such as"),
        ({"first": "2020-01-01"}, "That day is past"),
        ({"last": "2020-01-01"}, "Turn them round"),
        ({"last": "2999-01-01"}, "Enter them in two parts"),
        ({"person": "99"}, "Choose somebody of the shop"),
    ],
)
def test_bad_days_come_back_with_the_fault(signed_in, shop, change, fault):
    day = shop.today() + timedelta(days=3)
    answer = off(signed_in, **{"first": day, "words": "My words", **change})
    assert answer.status_code == 422
    assert fault in answer.content.decode()
    assert "My words" in answer.content.decode()
    assert not DayOff.objects.exists()


def test_a_helper_does_not_see_the_weeks(client, shop, bo):
    client.force_login(bo)
    assert client.get("/weeks/").status_code == 403
    assert off(client, shop.today()).status_code == 403


def test_get_changes_nothing(signed_in, shop):
    assert signed_in.get("/weeks/days-off/").status_code == 405
    assert signed_in.get("/weeks/days-off/1/removal/").status_code == 405


def test_work_that_nobody_has_on_a_list_is_named(signed_in, shop, ada):
    assert "on a list" not in page(signed_in)
    everything = [step.stage for step in shop.shop_rules().steps if step.stage != "quilt"]
    WorkingWeek.objects.update_or_create(
        person=ada, defaults={"minutes": [300] * 5 + [0, 0], "stages": everything}
    )
    assert "Nobody has quilting on a list." in page(signed_in)


def test_without_any_bench_hours_it_says_where_they_are_set(signed_in, shop, ada):
    assert "Nobody has bench hours" not in page(signed_in)
    WorkingWeek.objects.update_or_create(person=ada, defaults={"minutes": [0] * 7})
    seen = page(signed_in)
    assert "Nobody has bench hours in the next twelve weeks" in seen
    assert "has no bench hours" not in seen
    today = " ".join(signed_in.get("/").content.decode().split())
    assert "Nobody has bench hours in the next six weeks" in today
    assert "The weeks are free." not in today
