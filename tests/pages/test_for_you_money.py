"""What a customer's page says of money beside payments: added, taken off, given back, and due by when."""

from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from orders.account import adding, agreeing, giving_back, money, parts_due, quoting
from orders.models import Customer, Payer
from orders.models.paper import Link

pytestmark = pytest.mark.django_db


@pytest.fixture
def page(client, shop, ada):
    def shown(order, to=""):
        client.cookies.clear()
        _, token = Link.objects.give_out(order, until=shop.today(), by=ada, to=to)
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


@pytest.fixture
def uncle(drawn):
    """Return an uncle who pays a third of it, the aunt two."""
    made = Customer.objects.create(name="An uncle of Ferncliff")
    Payer.objects.filter(order=drawn).update(share=2)
    Payer.objects.create(order=drawn, customer=made, share=1)
    return made


def test_who_pays_a_part_reads_what_was_added_and_taken_off_the_whole(page, uncle, agreed, ada):
    """500.76 + 10.70 − 15.00 = 496.46; a third of it is 165.49, and 100.00 of that is paid."""
    adding.add(agreed, words="Hand-sewn label", minor=1000, taxed=True, key="a", by=ada)
    adding.credit(agreed, words="For the day it came late", minor=1500, key="c", by=ada)
    money.take_payment(agreed, minor=10000, payer=uncle, method="card", key="p", by=ada)
    shown = page(agreed, to=uncle.name)
    for words in (
        ">$500.76<", ": Hand-sewn label</dt><dd class=\"soft\">$10.70", ": For the day it came late",
        "− $15.00", "The whole as it is now", ">$496.46<", ">$165.49<", "− $100.00", ">$65.49<",
    ):  # fmt: skip
        assert words in shown, words
    shares = money.shares_of(agreed, money.owing_of(agreed))
    assert [(each.share, each.left) for each in shares] == [(33097, 33097), (16549, 6549)]


def test_who_pays_a_part_reads_the_days_of_her_own_parts(page, uncle, drawn, shop, ada):
    """250.38 with the yes and twice 125.19; a third is 83.46, 41.73, 41.73."""
    parts_due.name_days(drawn, [shop.today() + timedelta(days=each) for each in (9, 23)], by=ada)
    drawn.refresh_from_db()
    quote = quoting.issue(drawn, shop, by=ada)
    agreeing.accept(quote, said_by="An aunt of Ferncliff", how="phone", by=ada)
    shown = page(drawn, to=uncle.name)
    assert "Due by when" in shown
    assert (shown.count("<dd>$83.46</dd>"), shown.count("<dd>$41.73</dd>")) == (1, 2)
    money.take_payment(drawn, minor=10000, payer=uncle, method="card", key="p", by=ada)
    money.take_payment(drawn, minor=30000, payer=drawn.customer, method="card", key="q", by=ada)
    shown = page(drawn, to=uncle.name)
    assert "$83.46" not in shown
    assert (shown.count("<dd>$25.19</dd>"), shown.count("<dd>$41.73</dd>")) == (1, 1)


def test_the_days_of_all_payers_add_up_to_those_of_the_quote(uncle, drawn, shop, ada):
    parts_due.name_days(drawn, [shop.today() + timedelta(days=each) for each in (9, 23)], by=ada)
    drawn.refresh_from_db()
    quote = quoting.issue(drawn, shop, by=ada)
    parts = [16692 * 2, 16692]
    dues = [
        parts_due.dues_of_share(quote, (2, 1), mine, owed=part, paid=0) for mine, part in enumerate(parts)
    ]
    whole = parts_due.dues_of(quote, owed=50076, paid=0)
    assert [sum(each.minor for each in row) for row in zip(*dues, strict=True)] == [d.minor for d in whole]


def test_a_payers_page_asks_the_database_six_times_at_most(client, uncle, agreed, shop, ada):
    adding.add(agreed, words="Hand-sewn label", minor=1000, taxed=True, key="a", by=ada)
    adding.credit(agreed, words="Late", minor=1500, key="c", by=ada)
    _, token = Link.objects.give_out(agreed, until=shop.today(), by=ada, to=uncle.name)
    client.get(f"/for-you/{token}/")
    with CaptureQueriesContext(connection) as asked:
        assert client.get("/for-you/").status_code == 200
    assert len(asked) <= 6
