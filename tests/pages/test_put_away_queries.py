"""Years of work put away cost no page a query more."""

from __future__ import annotations

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from orders.models import Link, Order
from tests.bench.put_away import put_away

pytestmark = pytest.mark.django_db


@pytest.fixture
def asked(client, ada, shop, agreed):
    """Return a way to count what each page asks of the database: as the owner, or as the customer."""
    client.force_login(ada)
    customer = Client()
    customer.get(f"/for-you/{Link.objects.give_out(agreed, until=agreed.needed_by, by=ada)[1]}/")
    pages = {name: (client, reverse(name)) for name in ("quilts", "today", "books")}
    rooms = ("order-bag", "order-quilt", "order-bench", "order-account")
    pages |= {room: (client, reverse(room, args=[agreed.number])) for room in rooms}
    pages |= {"for-you": (customer, reverse("for-you"))}

    def asked():
        counts = {}
        for name, (caller, address) in pages.items():
            caller.get(address)
            with CaptureQueriesContext(connection) as queries:
                assert caller.get(address).status_code == 200, name
            counts[name] = len(queries)
        return counts

    return asked


@pytest.fixture
def gone(agreed, ada, aunt):
    """Return an order that was handed over."""
    order = Order.objects.open(title="Gone", customer=aunt, by=ada)
    order.stages.create(kind="cut", position=1, minutes=60)
    order.hand_over("the aunt", by=ada)
    order.refresh_from_db()
    return order


@pytest.mark.slow
def test_two_thousand_orders_put_away_ask_no_more_than_a_hundred(asked, gone):
    put_away(gone, 100, seed=7)
    few = asked()
    put_away(gone, 1900, seed=8)
    assert Order.objects.put_away().count() == 2001
    assert asked() == few


def test_what_is_made_by_one_seed_is_the_same_again(gone):
    put_away(gone, 20, seed=7)
    first = list(Order.objects.put_away().order_by("number").values_list("title", "handed_over_at"))
    put_away(gone, 20, seed=7)
    again = list(Order.objects.put_away().order_by("number").values_list("title", "handed_over_at"))
    assert again[21:] == first[1:]
