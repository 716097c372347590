"""The books of a year ask the database as often with ten thousand older orders as with a hundred."""

from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from orders.models import Entry, Order, Posting, Quote

pytestmark = [pytest.mark.django_db, pytest.mark.slow]
MOST_QUERIES = 8


@pytest.fixture
def owner(client, ada):
    client.force_login(ada)
    return client


def finish_orders(aunt, ada, *, count, first, year):
    """Write orders that were agreed, paid all but every tenth, and handed over, in one year."""
    days = [date(year, 1, 1) + timedelta(days=number % 365) for number in range(count)]
    left = [
        datetime(each.year, each.month, each.day, 12, tzinfo=ZoneInfo("America/New_York")) for each in days
    ]
    orders = Order.objects.bulk_create(
        Order(number=first + n, title=f"Order {first + n}", customer=aunt, approver="The aunt",
              handed_over_at=left[n], accepted_at=left[n])
        for n in range(count)
    )  # fmt: skip
    Quote.objects.bulk_create(
        Quote(number=1, order=order, lines=[], currency="USD", net=46800, tax=3276, total=50076,
              deposit=25038, minutes=[["cut", 84]], issued_by=ada, valid_until=day, accepted_at=at,
              accepted_by="The aunt")
        for order, day, at in zip(orders, days, left, strict=True)
    )  # fmt: skip
    entries = Entry.objects.bulk_create(
        Entry(key=f"{kind} {order.number}", kind=kind, day=day, order=order, words=kind, currency="USD")
        for order, day in zip(orders, days, strict=True)
        for kind in ("charge", "payment")
    )
    Posting.objects.bulk_create(_legs(entries))


def _legs(entries):
    for place, entry in enumerate(entries):
        if entry.kind == "charge":
            yield Posting(entry=entry, out_of="sales", into="owed", minor=50076)
        else:
            paid = 50000 if place % 20 == 1 else 50076
            yield Posting(entry=entry, out_of="owed", into="bank", minor=paid)


def queries(client, address):
    with CaptureQueriesContext(connection) as asked:
        answer = client.get(address)
    assert answer.status_code == 200
    return len(asked), answer.content.decode()


def test_the_books_of_200_orders_after_10000_ask_as_often_as_after_100(owner, aunt, ada):
    finish_orders(aunt, ada, count=100, first=1000, year=2020)
    finish_orders(aunt, ada, count=200, first=2000, year=2027)
    few, shown = queries(owner, "/books/?year=2027")
    assert "$100,136.80" in shown  # 200 × 500.76, less the 20 × 0.76 that are open
    finish_orders(aunt, ada, count=9900, first=10_000, year=2021)
    many, _ = queries(owner, "/books/?year=2027")
    month, _ = queries(owner, "/books/?month=2027-05")
    assert many == few <= MOST_QUERIES
    assert month <= MOST_QUERIES
