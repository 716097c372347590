"""The Account room: what would be told now, what was told, and what is owed."""

import pytest

from orders.account import agreeing, money, quoting
from orders.models import Order
from orders.models.paper import Link

pytestmark = pytest.mark.django_db


@pytest.fixture
def page(client, ada):
    client.force_login(ada)
    return lambda order, query="": client.get(f"/quilts/{order.number}/account/{query}").content.decode()


def test_before_a_layout_it_says_what_is_missing_and_where_to_go(page, order, twelve_shirts):
    shown = page(order)
    assert "No price can be told yet" in shown
    assert "No layout is drawn yet" in shown
    assert f'href="/quilts/{order.number}/quilt/"' in shown
    assert "Issue the quote" not in shown


def test_a_drawn_quilt_shows_its_lines_its_total_its_deposit_and_its_day(page, drawn):
    shown = page(drawn)
    for words in ("$432.00", "$36.00", "$32.76", "$500.76", "$250.38", "planned for", "cannot be before"):
        assert words in shown, words
    assert "Issue the quote" in shown


def test_the_wage_stands_in_the_strip_that_only_the_owner_sees(page, drawn, shop):
    shown = page(drawn)
    strip = shown[shown.index("Only you see this") :][:900]
    assert "an hour" in strip
    assert "under your aim of $31" in strip


def test_a_quote_that_waits_asks_whose_yes_it_was(page, quote, drawn):
    shown = page(drawn)
    assert "Quote 1 waits for her yes" in shown
    assert 'name="yes-said_by" value="An aunt of Ferncliff"' in shown


def test_a_quote_that_would_be_another_today_says_so(page, quote, drawn, ada):
    quoting.add_line(drawn, words="Label", kind="labour", minor=1500, by=ada)
    assert "It would be another quote today" in page(drawn)


def test_after_the_yes_the_deposit_is_asked_for_with_its_amount(page, agreed):
    shown = page(agreed)
    assert "Agreed: quote 1" in shown
    assert 'value="250.38"' in shown
    assert "Take the deposit" in shown


def test_an_agreed_price_is_reckoned_anew_only_when_asked(page, agreed):
    assert "The quote as it would be now" not in page(agreed)
    assert "The quote as it would be now" in page(agreed, "?quote=new")


def test_everything_paid_leads_to_the_hand_over(page, agreed):
    money.take_payment(agreed, minor=50076, payer=agreed.customer, method="card", key="k", by=None)
    shown = page(agreed)
    assert "All paid" in shown
    assert f'class="button main big" href="/quilts/{agreed.number}/hand-over/"' in shown


def test_an_order_that_was_called_off_offers_nothing(page, drawn, ada):
    drawn.cancel(by=ada)
    shown = page(drawn)
    assert "Issue the quote" not in shown
    assert "Make a link" not in shown


def test_looking_changes_nothing(page, agreed):
    before = list(Order.objects.values()), agreed.events.count()
    page(agreed)
    assert (list(Order.objects.values()), agreed.events.count()) == before


def test_more_payments_and_papers_ask_the_database_no_more_often(client, ada, agreed):
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    client.force_login(ada)

    def queries():
        with CaptureQueriesContext(connection) as asked:
            client.get(f"/quilts/{agreed.number}/account/")
        return len(asked)

    pay(agreed, "first")
    few = queries()
    for number in range(12):
        pay(agreed, f"more {number}")
    assert queries() == few


def pay(order, key):
    from orders import papers

    entry = money.take_payment(order, minor=100, payer=order.customer, method="card", key=key, by=None)
    papers.deposit(entry, by=None)


def test_a_helper_sees_no_account(client, bo, drawn):
    client.force_login(bo)
    answer = client.get(f"/quilts/{drawn.number}/account/")
    assert answer.status_code == 403
    assert "500.76" not in answer.content.decode()


def test_a_repair_asks_for_a_line_and_is_quoted_from_it(page, client, order):
    Order.objects.update(kind="repair")
    assert "Add a line that says what it costs" in page(order)
    line = {"line-words": "A torn corner", "line-amount": "45", "line-kind": "labour"}
    client.post(f"/quilts/{order.number}/account/lines/", line)
    shown = page(order)
    assert "$45.00" in shown
    assert "Issue the quote" in shown


def test_where_no_tax_is_set_no_amount_is_called_with_tax(page, client, drawn, shop, ada):
    shop.rules["terms"]["taxes"] = []
    shop.save(update_fields=["rules"])
    quote = quoting.issue(drawn, shop, by=ada)
    assert quote.tax == 0
    assert "with tax" not in page(drawn)
    agreeing.accept(quote, said_by="An aunt of Ferncliff", how="phone", by=ada)
    assert "with tax" not in page(drawn)
    _, token = Link.objects.give_out(drawn, until=shop.today(), by=ada)
    assert "with tax" not in client.get(f"/for-you/{token}/", follow=True).text
