"""What goes by itself: nothing, until the owner switched its kind on; then once at each time."""

from __future__ import annotations

from datetime import timedelta

import pytest

from orders.customer import standing
from orders.models import Incident, Mail, Message, Order
from tests.shop_days import noon_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def ready(agreed, shop, settings):
    """Return the agreed order, its work done eight days ago, its customer with a mail address."""
    settings.EMAIL_HOST, settings.DEFAULT_FROM_EMAIL = "127.0.0.1", "wren@workroom.example"
    agreed.stages.update(done_at=noon_of(shop, days_ago=8))
    agreed.customer.email = "aunt@ferncliff.example"
    agreed.customer.save()
    return agreed


def send(shop, *kinds):
    shop.words = {"alone": list(kinds)}
    shop.save()
    standing.words_of_the_day(None)
    return sorted(Mail.objects.values_list("kind", flat=True))


def test_nothing_goes_until_a_kind_is_switched_on(ready, shop):
    assert send(shop) == []


def test_a_kind_that_is_switched_on_goes_once_and_no_other(ready, shop):
    assert send(shop, "ready") == ["ready"]
    assert send(shop, "ready") == ["ready"]
    assert Mail.objects.get().by is None


def test_no_kind_that_is_not_on_the_list_can_go_by_itself(ready, shop):
    Order.objects.update(promised_for=shop.today() - timedelta(days=1))
    assert send(shop, "delay", "damage", "own", "price", "deposit") == []


@pytest.mark.parametrize("what", ["memorial", "incident", "paused", "surprise", "kept off", "no mail"])
def test_it_rests_for_mourners_trouble_and_surprises(ready, shop, ada, what):
    today = shop.today()
    if what == "memorial":
        Order.objects.update(memorial=True)
    elif what == "incident":
        Incident.objects.create(what="stained", order=ready, by=ada)
    elif what == "paused":
        ready.pause(why="until she writes", by=ada)
    elif what == "kept off":
        ready.keep_off(today, by=ada)
    else:
        ready.customer.keep_quiet_until = today + timedelta(days=9) if what == "surprise" else None
        ready.customer.email = "" if what == "no mail" else ready.customer.email
        ready.customer.save()
    assert send(shop, "ready", "balance") == []


def test_words_of_yesterday_keep_it_back_a_day(ready, shop, ada):
    Message.objects.note(ready, "Called", to="her", on=shop.today(), by=ada, how="call")
    assert send(shop, "ready") == []
    Message.objects.update(at=noon_of(shop, days_ago=2))
    assert send(shop, "ready") == ["ready"]


def test_a_balance_is_asked_for_a_second_time_two_weeks_later_and_no_third(ready, shop):
    assert send(shop, "balance") == ["balance"]
    for days, count in ((15, 1), (21, 2), (90, 2)):
        ready.stages.update(done_at=noon_of(shop, days_ago=days))
        assert len(send(shop, "balance")) == count, days
