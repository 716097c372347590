"""What a customer's page says of money beside payments: added, taken off, given back, and due by when."""

from datetime import timedelta

import pytest

from orders.account import adding, agreeing, giving_back, money, parts_due, quoting
from orders.models.paper import Link

pytestmark = pytest.mark.django_db


@pytest.fixture
def page(client, shop, ada):
    def shown(order):
        _, token = Link.objects.give_out(order, until=shop.today(), by=ada)
        return " ".join(client.get(f"/for-you/{token}/", follow=True).text.split())

    return shown


def test_what_was_added_taken_off_and_given_back_is_told_in_plain_words(page, agreed, ada):
    """500.76 agreed, 10.70 added with tax, 15.00 off, 100.00 paid, 20.00 of it back: 416.46 is open."""
    adding.add(agreed, words="Hand-sewn label", minor=1000, taxed=True, key="a", by=ada)
    adding.credit(agreed, words="For the day it came late", minor=1500, key="c", by=ada)
    paid = money.take_payment(agreed, minor=10000, payer=agreed.customer, method="card", key="p", by=ada)
    giving_back.give_back(paid, minor=2000, method="card", key="g", by=ada)
    shown = page(agreed)
    for words in ("$500.76", ": Hand-sewn label</dt><dd>$10.70", "Taken off", "For the day it came late",
                  "− $15.00", "− $100.00", "Given back", "$416.46"):  # fmt: skip
        assert words in shown, words


def test_the_days_of_the_parts_stand_on_it(page, drawn, shop, ada):
    parts_due.name_days(drawn, [shop.today() + timedelta(days=each) for each in (9, 23)], by=ada)
    drawn.refresh_from_db()
    quote = quoting.issue(drawn, shop, by=ada)
    agreeing.accept(quote, said_by="An aunt of Ferncliff", how="phone", by=ada)
    money.take_payment(drawn, minor=25038, payer=drawn.customer, method="card", key="p", by=ada)
    shown = page(drawn)
    assert "Due by when" in shown
    assert shown.count("<dd>$125.19</dd>") == 2
