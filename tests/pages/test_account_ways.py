"""The ways to take an order in its Account room: looked for without waiting, told, one of them chosen."""

from datetime import timedelta

import pytest
from django.utils import timezone

from orders.account import quoting, ways_to_take
from orders.account.chosen_way import way_of
from orders.background import errands
from orders.models import DayOff, Errand, Order, Shop, Stage

pytestmark = pytest.mark.django_db


@pytest.fixture
def signed_in(client, ada):
    client.force_login(ada)
    return client


def page(client, order):
    return " ".join(client.get(f"/quilts/{order.number}/account/").content.decode().split())


def test_ways_are_looked_for_in_the_background_and_told_one_by_one(signed_in, drawn):
    address = f"/quilts/{drawn.number}/account/ways/"
    assert "Look for ways" in page(signed_in, drawn)
    for _ in range(2):
        assert signed_in.post(address).url == f"/quilts/{drawn.number}/account/#ways"
    assert Errand.objects.filter(kind=ways_to_take.KIND).count() == 1
    assert "More ways are being looked for." in page(signed_in, drawn)
    asked = signed_in.get(f"{address}progress/", headers={"HX-Request": "true"}).content.decode()
    assert "More ways are being looked for." in asked
    errands.run_due()
    told = signed_in.get(f"{address}progress/", headers={"HX-Request": "true"}).content.decode()
    assert "In its place" in told
    assert "Moves nobody by" in told
    assert "More ways" not in told
    assert signed_in.get(f"{address}progress/").status_code == 302


@pytest.fixture
def at_a_glance(monkeypatch):
    """Let a day found at once be ninety days too late."""
    best = quoting.best_known
    monkeypatch.setattr(
        quoting,
        "best_known",
        lambda found, longer: best((found[0] + timedelta(90), found[1]), longer),
    )


def test_a_day_found_too_late_at_a_glance_is_looked_for_longer_and_the_page_follows(
    signed_in, drawn, at_a_glance
):
    shown, address = page(signed_in, drawn), f"/quilts/{drawn.number}/account/ways/"
    assert "Found at a glance" in shown
    assert f'hx-post="{address}" hx-trigger="load, submit"' in shown
    assert "a longer look has not begun" in shown
    signed_in.post(address)
    reloaded = page(signed_in, drawn)
    assert "Found at a glance; a longer look is under way." in reloaded
    late = quoting.prospect(drawn, Shop.objects.get()).planned_for
    assert f"issue with {late:%a} {late.day}" in reloaded.replace("\N{NO-BREAK SPACE}", " ")
    assert 'hx-trigger="load, submit"' not in reloaded
    asked = {"headers": {"HX-Request": "true"}}
    assert "day-found" not in signed_in.get(f"{address}progress/", **asked).content.decode()
    errands.run_due()
    told = " ".join(signed_in.get(f"{address}progress/", **asked).content.decode().split())
    assert 'id="day-found" hx-swap-oob="true"' in told
    assert 'id="issue-day" hx-swap-oob="true"' in told
    assert "longer look" not in told
    planned = drawn.needed_by - timedelta(days=drawn.cushion())
    assert f"planned for {planned:%a} {planned.day}" in told.replace("\N{NO-BREAK SPACE}", " ")


def test_a_longer_look_that_was_stopped_is_not_begun_again_by_itself(signed_in, drawn, at_a_glance):
    signed_in.post(f"/quilts/{drawn.number}/account/ways/")
    signed_in.post(f"/quilts/{drawn.number}/account/ways/ending/")
    shown = page(signed_in, drawn)
    assert "Look longer" in shown
    assert 'hx-trigger="load, submit"' not in shown
    assert "a longer look was stopped" in shown


def test_without_a_day_wanted_the_first_that_fits_may_be_sooner_too(signed_in, drawn, at_a_glance):
    drawn.needed_by = None
    drawn.save()
    assert "Found at a glance" in page(signed_in, drawn)


def test_ways_found_before_the_work_changed_can_be_looked_for_again(signed_in, drawn, aunt, ada):
    signed_in.post(f"/quilts/{drawn.number}/account/ways/")
    errands.run_due()
    assert "Look for ways" not in page(signed_in, drawn)
    other = Order.objects.open(title="Another", customer=aunt, by=ada, needed_by=None)
    Stage.objects.create(order=other, kind="bind", position=0, minutes=30)
    shown = page(signed_in, drawn)
    assert "Look for ways" in shown
    assert "What was found before is not told any more" in shown


def test_a_day_that_is_proved_to_be_the_first_or_that_fits_is_not_looked_for_longer(signed_in, drawn, shop):
    assert "Found at a glance" not in page(signed_in, drawn)
    drawn.needed_by = shop.today() + timedelta(days=3)
    drawn.save()
    now = quoting.prospect(drawn, shop)
    assert (now.room < 0, now.fits_by == now.not_before) == (True, True)
    assert "Found at a glance" not in page(signed_in, drawn)


def test_one_way_is_chosen_and_the_quote_follows_it(signed_in, drawn):
    signed_in.post(f"/quilts/{drawn.number}/account/ways/")
    errands.run_due()
    for _ in range(2):
        signed_in.post(f"/quilts/{drawn.number}/account/ways/choice/", {"way": "rush"})
    assert way_of(Order.objects.get()) == "rush"
    assert "taken" in page(signed_in, drawn)


def test_a_way_nobody_offers_is_not_taken(signed_in, drawn):
    signed_in.post(f"/quilts/{drawn.number}/account/ways/choice/", {"way": "by balloon"})
    assert way_of(Order.objects.get()) == "place"
    assert "not on offer any more" in page(signed_in, drawn)


def test_a_search_is_stopped_and_may_be_begun_again(signed_in, drawn):
    address = f"/quilts/{drawn.number}/account/ways/"
    signed_in.post(address)
    signed_in.post(f"{address}ending/")
    assert "Stopped before it began." in page(signed_in, drawn)
    signed_in.post(address)
    assert "More ways are being looked for." in page(signed_in, drawn)


def test_signed_out_and_helpers_stay_outside_and_get_changes_nothing(client, drawn, ada, bo):
    address = f"/quilts/{drawn.number}/account/ways/"
    assert client.post(address).status_code == 302
    client.force_login(bo)
    assert client.post(address).status_code == 403
    client.force_login(ada)
    assert client.get(address).status_code == 405
    assert client.get(f"{address}choice/").status_code == 405
    assert client.post("/quilts/99/account/ways/").status_code == 404
    assert way_of(Order.objects.get()) == "place"


def test_the_hours_say_stage_by_stage_from_how_many_quilts_they_come(signed_in, drawn, aunt, ada):
    shown = page(signed_in, drawn)
    assert "of work, stage by stage" in shown
    assert "by the standard" in shown
    assert "of your quilts" not in shown
    for number in range(3):
        before = Order.objects.open(title=f"Before {number}", customer=aunt, by=ada)
        now = timezone.now()
        Stage.objects.create(order=before, kind="quilt", position=0, minutes=300, spent=360, done_at=now)
    assert 'Quilt <span class="soft small">from 3 of your quilts</span>' in page(signed_in, drawn)


def test_a_day_wanted_on_which_the_shop_is_closed_is_said_beside_the_date(signed_in, drawn):
    assert "the shop is closed" not in page(signed_in, drawn)
    DayOff.objects.create(person=None, day=drawn.needed_by)
    assert "the shop is closed (a day off): it leaves before that day." in page(signed_in, drawn)
