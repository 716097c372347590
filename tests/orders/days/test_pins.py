"""Pins: refused in words where a stage cannot be done on the day, and taken back."""

from datetime import timedelta

import pytest

from orders.days.pins import why_not_pinned
from orders.days.replanning import plan_now, take_back
from orders.models import DayOff, Overtime, Replan, Shop, Stage

pytestmark = pytest.mark.django_db


@pytest.fixture
def stage(order, shop):
    return Stage.objects.create(order=order, kind="bind", position=0, minutes=240)


@pytest.fixture
def monday(shop):
    return shop.today() + timedelta(days=7 - shop.today().weekday())


def test_a_day_at_work_takes_a_pin(stage, shop, monday):
    assert why_not_pinned(stage, monday, shop) == ""


def test_a_closed_day_a_day_off_and_a_sunday_take_none(stage, shop, monday, ada):
    assert "Nobody who does this is at the bench" in why_not_pinned(stage, monday - timedelta(days=1), shop)
    DayOff.objects.create(day=monday)
    assert "Pin it to another day." in why_not_pinned(stage, monday, shop)
    DayOff.objects.create(day=monday + timedelta(days=1), person=ada)
    assert "Pin it to another day." in why_not_pinned(stage, monday + timedelta(days=1), shop)


def test_a_stage_longer_than_the_day_says_how_much_there_is(stage, shop, monday, ada):
    Shop.objects.update(planned_share=50)
    refused = why_not_pinned(stage, monday, Shop.objects.get()).replace("\N{NO-BREAK SPACE}", " ")
    assert "It takes 4 h, and nobody who does this has more than 2 h 30 planned" in refused
    Overtime.objects.create(person=ada, day=monday, minutes=90)
    assert why_not_pinned(stage, monday, Shop.objects.get()) == ""


def test_a_stage_that_waits_is_not_pinned_before_its_day(stage, shop, monday):
    stage.waits_until = monday + timedelta(days=1)
    assert "It waits until" in why_not_pinned(stage, monday, shop)


def test_a_pin_by_its_address_is_refused_or_moves_the_plan_and_is_undone(client, ada, stage, shop, monday):
    client.force_login(ada)
    address = f"/stages/{stage.pk}/pin/"
    refused = client.post(address, {"day": monday - timedelta(days=1)})
    assert refused.status_code == 422
    seen = " ".join(refused.content.decode().split())
    beside = seen[seen.index(f'id="pin-{stage.pk}"') :][:900]
    assert f'value="{monday - timedelta(days=1)}" aria-invalid="true" aria-describedby="pin-fault"' in beside
    assert 'id="pin-fault"' in beside
    assert "Nobody who does this is at the bench" in beside
    assert seen.count('class="pin" open') == 1
    assert not Replan.objects.exists()
    for _ in range(2):
        assert client.post(address, {"day": monday}).status_code == 302
    made = Replan.objects.get()
    work, table = plan_now(shop)
    assert {work.date_of(stint.day) for stint in table.stints} == {monday}
    take_back(made, by=ada)
    stage.refresh_from_db()
    assert stage.pinned_for is None
