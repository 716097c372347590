"""Lists that grow with the shop ask the database as often when they are long as when they are short."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from orders.models import Bag, DayOff, Design, Order
from tests.cast import add_shirt

pytestmark = pytest.mark.django_db


@pytest.fixture
def asked(client, ada, shop):
    """Return a way to count the queries of a page, once its caches are warm."""
    client.force_login(ada)

    def asked(address):
        client.get(address)
        with CaptureQueriesContext(connection) as queries:
            assert client.get(address).status_code == 200
        return len(queries)

    return asked


def more_orders(count, *, like, by):
    """Open orders with a bag, a layout and its stages each, as a filled shop has them."""
    for number in range(count):
        order = Order.objects.open(
            title=f"Another {number}",
            customer=like.customer,
            by=by,
            needed_by=like.needed_by + timedelta(days=number),
        )
        bag = Bag.objects.create(customer=like.customer, brought_by="the aunt", count=1, received_by=by)
        order.bags.add(bag)
        add_shirt(bag, 1)
        for stage in like.stages.all():
            order.stages.create(kind=stage.kind, position=stage.position, minutes=60)
        Design.objects.create(order=order).draw(like.design.quilt, "Even grid", by=by)


@pytest.mark.parametrize("name", ["weeks", "weeks-calendar", "workroom-care", "today"])
def test_twelve_more_orders_ask_no_more_queries(asked, drawn, ada, shop, name):
    more_orders(2, like=drawn, by=ada)
    DayOff.objects.create(day=shop.today() + timedelta(days=9))
    few = asked(reverse(name))
    more_orders(12, like=drawn, by=ada)
    for days in range(10, 20):
        DayOff.objects.create(day=shop.today() + timedelta(days=days))
    assert asked(reverse(name)) == few


@pytest.mark.parametrize("name", ["order-log", "order-bag"])
def test_forty_shirts_ask_no_more_queries_than_twelve(asked, order, twelve_shirts, name):
    twelve = asked(reverse(name, args=[order.number]))
    for number in range(13, 41):
        add_shirt(order.bags.get(), number)
    assert asked(reverse(name, args=[order.number])) == twelve
