"""The demo shop can be opened at any hour: its days are the shop's, not those of UTC."""

from __future__ import annotations

from collections import Counter
from datetime import UTC, datetime

import pytest

from orders.customer import telling
from orders.demo.clock import standing_at
from orders.demo.shop import open_demo
from orders.models import Order, Shop

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.mark.parametrize("moment", ["2026-11-26T00:40", "2026-12-27T17:00", "2027-03-01T04:59"])
def test_on_an_evening_a_sunday_or_past_midnight_elsewhere_the_plot_is_the_same(moment):
    with standing_at(datetime.fromisoformat(moment).replace(tzinfo=UTC)):
        open_demo()
        shop = Shop.objects.get()
        orders = Order.objects.in_the_workroom()
        told = [telling.state_of(order, today=shop.today()) for order in orders]
    assert Counter(state.shape for state in told)["late"] == 1
    assert {state.shape for state in told} == {"late", "work", "wait", "rest"}
