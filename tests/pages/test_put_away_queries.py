"""Years of work put away cost no page a query more."""

from __future__ import annotations

import re

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from config.kept_pages import shelf
from orders.models import Link, Order
from tests.bench.put_away import put_away

pytestmark = pytest.mark.django_db
# Tables that grow with each order that is put away.
GROWING = {
    f"orders_{name}"
    for name in (
        "order", "order_bags", "payer", "customer", "bag", "shirt", "piece", "design", "move", "consent",
        "designversion", "approvedpiece", "cut", "block", "stage", "quote", "paper", "entry", "posting",
        "event",
    )
}  # fmt: skip


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


def read_through(sql, params):
    """Return the growing tables that the database reads from end to end for a question."""
    with connection.cursor() as cursor:
        cursor.execute(f"EXPLAIN {'QUERY PLAN ' * (connection.vendor == 'sqlite')}{sql}", params)
        steps = [str(row[-1]) for row in cursor.fetchall()]
    named = {alias: table for table, alias in re.findall(r'"(orders_\w+)" (\w+)', sql)}
    found = [match[1] for step in steps if (match := re.search(r"(?:^SCAN|Seq Scan on) (\w+)", step))]
    return {named.get(each, each) for each in found}


def rows_of(cursor, table):
    cursor.execute(f"SELECT count(*) FROM {table}")
    return cursor.fetchone()[0]


@pytest.mark.slow
def test_no_page_reads_through_what_is_put_away(pages, agreed):
    agreed.handed_over_at = agreed.opened_at  # a copy of all that hangs on it, as if it had left
    put_away(agreed, 600, seed=7)
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")
        long = {table for table in GROWING if rows_of(cursor, table) >= 600}
    assert {"orders_order", "orders_stage", "orders_bag", "orders_event", "orders_payer"} <= long
    seen = []

    def watch(execute, sql, params, many, context):
        seen.append((sql, params))
        return execute(sql, params, many, context)

    for name, (caller, address) in pages.items():
        if name == "books":
            continue  # it adds up a year, by the days of its entries
        caller.get(address)
        shelf.clear()
        seen.clear()
        with connection.execute_wrapper(watch):
            caller.get(address)
        for sql, params in [each for each in seen if each[0].startswith("SELECT")]:
            assert not read_through(sql, params) & long, (name, read_through(sql, params), sql)
        assert len(seen) > 3


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
