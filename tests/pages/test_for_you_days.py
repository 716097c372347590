"""The days on the customer's page are true on the day she reads them."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.utils import timezone

from orders.models import Order

pytestmark = pytest.mark.django_db


def shown(client):
    answer = client.get("/for-you/")
    assert answer.status_code == 200
    return answer.content.decode()


def plan(order, shop, days):
    order.promised_for = shop.today() + timedelta(days=days)
    Order.objects.filter(pk=order.pk).update(promised_for=order.promised_for)


def test_a_day_to_come_is_planned_and_one_that_is_past_is_not_told_as_if_it_were(hers, agreed, shop):
    client = hers(agreed)
    for days in (0, 9):
        plan(agreed, shop, days)
        assert "Planned for" in shown(client)
    plan(agreed, shop, -3)
    page = shown(client)
    assert "It takes longer" in page
    assert "It was planned for" in page
    assert "the day is agreed later" in page
    for words in ("Planned for", "If nothing changes"):
        assert words not in page, words


def test_what_is_ready_or_called_off_is_planned_for_no_day(hers, agreed, shop, ada):
    client = hers(agreed)
    plan(agreed, shop, -3)
    agreed.stages.update(done_at=timezone.now())
    page = shown(client)
    assert "is ready" in page
    for words in ("Planned for", "It takes longer", "If nothing changes"):
        assert words not in page, words
    agreed.stages.update(done_at=None)
    agreed.cancel(by=ada)
    page = shown(client)
    assert "called off" in page
    for words in ("Planned for", "It takes longer"):
        assert words not in page, words


def test_a_repair_shows_no_empty_quilt_and_no_steps_of_cutting(hers, aunt, shop, ada):
    torn = Order.objects.open(title="A torn corner", customer=aunt, by=ada, kind="repair")
    page = shown(hers(torn))
    assert "The repair is being looked at" in page
    assert "The shop says the day." in page
    for words in ('class="lq', "Colors on a screen", "Cut"):
        assert words not in page, words


def test_what_is_not_here_yet_shows_no_empty_quilt(hers, aunt, ada):
    page = shown(hers(Order.objects.open(title="Soon", customer=aunt, by=ada)))
    assert "Once they are here, the layout comes." in page
    for words in ('class="lq', "Colors on a screen", "The layout comes next"):
        assert words not in page, words
