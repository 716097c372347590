"""Years of work put away cost no page a query more."""

from __future__ import annotations

from uuid import uuid4

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from config.kept_pages import shelf
from orders.models import Link, Order
from tests.bench.put_away import put_away

pytestmark = pytest.mark.django_db


@pytest.fixture
def pages(client, ada, shop, agreed):
    """Return each page with who looks at it: the owner, or the customer."""
    client.force_login(ada)
    customer = Client()
    customer.get(f"/for-you/{Link.objects.give_out(agreed, until=agreed.needed_by, by=ada)[1]}/")
    pages = {name: (client, reverse(name)) for name in ("quilts", "today", "books")}
    rooms = ("order-bag", "order-quilt", "order-bench", "order-account")
    pages |= {room: (client, reverse(room, args=[agreed.number])) for room in rooms}
    pages |= {"for-you": (customer, reverse("for-you"))}

    return pages


@pytest.fixture
def pay(client, agreed):
    """Return a way to take a payment of a cent each time."""

    def pay():
        form = {
            "pay-amount": "0.01",
            "pay-method": "cash",
            "pay-payer": agreed.customer_id,
            "pay-key": uuid4().hex,
        }
        address = reverse("order-account", args=[agreed.number])
        assert client.post(f"{address}payments/", form).status_code == 302

    return pay


@pytest.fixture
def asked(pages):
    """Return a way to count what each page asks of the database, drawn after a change."""

    def asked():
        counts = {}
        for name, (caller, address) in pages.items():
            caller.get(address)
            shelf.clear()
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


def steps_of(pages, pay):
    """Return the steps that SQLite takes for each page drawn and for a payment, in hundreds."""
    steps = {}
    for name, (caller, address) in pages.items():
        caller.get(address)
        shelf.clear()
        steps[name] = steps_for(lambda caller=caller, address=address: caller.get(address))
    pay()
    return steps | {"payment": steps_for(pay)}


def steps_for(ask):
    taken = []
    connection.connection.set_progress_handler(lambda: taken.append(1), 100)
    ask()
    connection.connection.set_progress_handler(None, 0)
    return len(taken)


@pytest.mark.slow
@pytest.mark.in_a_file
def test_no_page_and_no_payment_reads_through_what_is_put_away(pages, pay, agreed):
    del pages["books"]  # it adds up a year, by the days of its entries
    agreed.handed_over_at = agreed.opened_at  # copies of all that hangs on it, as if they had left
    agreed.stages.update(done_at=agreed.opened_at, spent=60)
    put_away(agreed, 150, seed=7)
    few = steps_of(pages, pay)
    put_away(agreed, 600, seed=8)
    many = steps_of(pages, pay)
    assert {name: (few[name], many[name]) for name in few if many[name] > few[name] * 1.1 + 10} == {}
    assert min(few.values()) > 10


@pytest.mark.slow
def test_two_thousand_orders_put_away_ask_no_more_than_a_hundred(asked, gone):
    put_away(gone, 100, seed=7)
    few = asked()
    put_away(gone, 1900, seed=8)
    assert Order.objects.put_away().count() == 2001
    assert asked() == few


def test_each_order_put_away_is_of_a_customer_who_brought_the_bag_and_pays(gone, aunt):
    put_away(gone, 9, seed=7)
    others = Order.objects.put_away().exclude(pk=gone.pk)
    assert {order.payers.get().customer_id for order in others} == {order.customer_id for order in others}
    assert len({order.customer_id for order in others}) == 3
    assert aunt.pk not in {order.customer_id for order in others}


def test_what_is_made_by_one_seed_is_the_same_again(gone):
    put_away(gone, 20, seed=7)
    first = list(Order.objects.put_away().order_by("number").values_list("title", "handed_over_at"))
    put_away(gone, 20, seed=7)
    again = list(Order.objects.put_away().order_by("number").values_list("title", "handed_over_at"))
    assert again[21:] == first[1:]
