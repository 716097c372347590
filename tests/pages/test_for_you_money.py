"""What a customer's page says of money beside payments: added, taken off, given back, and due by when."""

from datetime import timedelta

import pytest
from django.db import connection
from django.template.loader import render_to_string
from django.test.utils import CaptureQueriesContext

from orders import papers
from orders.account import adding, agreeing, giving_back, money, parts_due, payers, quoting
from orders.models import Customer, Payer
from orders.models.paper import Link
from planner.price import Portion

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


@pytest.fixture
def club(drawn, ada):
    """Return a club that gives 200.00 to it, the aunt pays the rest."""
    joining = payers.Joining("The booster club", set_amount=20000)
    payers.write_down(drawn, {}, joining=joining, by=ada)
    drawn.refresh_from_db()
    return drawn.payers.get(customer__name=joining.name).customer


def test_who_gives_a_set_amount_reads_it_before_the_yes_and_after(page, club, drawn, shop, ada):
    """500.76: the club gives 200.00, of the deposit of 250.38 that is 100.00; the aunt pays 300.76."""
    quote = quoting.issue(drawn, shop, by=ada)
    assert "Your part of the total</dt><dd>$200.00" in page(drawn, to=club.name)
    assert "Your part of the total</dt><dd>$300.76" in page(drawn)
    agreeing.accept(quote, said_by="An aunt of Ferncliff", how="phone", by=ada)
    shown = page(drawn, to=club.name)
    assert "Your part of it</dt><dd>$200.00" in shown
    assert "$100.00 of it comes first" in shown
    assert "$300.76" not in shown
    shown = page(drawn)
    assert "$150.38 of it comes first" in shown
    money.take_payment(drawn, minor=20000, payer=club, method="check", key="p", by=ada)
    assert "All is paid" in page(drawn, to=club.name)


def test_the_quote_names_each_part_and_a_receipt_only_the_payers_own(club, drawn, shop, ada):
    quote = quoting.issue(drawn, shop, by=ada)
    told = papers.quote(quote, by=ada).made_of["parts_of"]
    assert [[*each.values()] for each in told] == [
        ["An aunt of Ferncliff", "$300.76"],
        ["The booster club", "$200.00"],
    ]
    agreeing.accept(quote, said_by="An aunt of Ferncliff", how="phone", by=ada)
    some = money.take_payment(drawn, minor=15000, payer=club, method="check", key="p", by=ada)
    facts = papers.deposit(some, by=ada).made_of
    assert (facts["part"], facts["left_of_part"], facts["balance"]) == ("$200.00", "$50.00", "$350.76")
    rest = money.take_payment(drawn, minor=5000, payer=club, method="check", key="q", by=ada)
    facts = papers.deposit(rest, by=ada).made_of
    assert facts["part"] == "$200.00"
    assert "left_of_part" not in facts
    assert "$300.76" not in render_to_string("papers/deposit.html", {"facts": facts})


def test_the_days_of_all_payers_add_up_to_those_of_the_quote(uncle, drawn, shop, ada):
    parts_due.name_days(drawn, [shop.today() + timedelta(days=each) for each in (9, 23)], by=ada)
    drawn.refresh_from_db()
    quote = quoting.issue(drawn, shop, by=ada)
    parts = [16692 * 2, 16692]
    dues = [
        parts_due.dues_of_share(quote, (Portion(2), Portion(1)), mine, owed=part, paid=0)
        for mine, part in enumerate(parts)
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
