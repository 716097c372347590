"""What an hour of an order brings: before it is told, as agreed, and by the minutes it really took."""

from __future__ import annotations

import math

import pytest
from django.utils import timezone

from orders.account import adding, earning, giving_back, quoting
from orders.models import Quote, Stage

pytestmark = pytest.mark.django_db


def test_the_worked_quilt_brings_what_the_handbook_says(shop):
    """Trade handbook 4.4: 468 less 87 over 14.6 h is 26.11 (we round it down from 26.096), 19.11 after 7."""
    quote = Quote(net=46800, paid_out=8700, currency="USD")
    earned = earning.earned_by(quote, 876, shop.shop_rules())
    assert earned.hour.minor == pytest.approx(2611, rel=0.01)
    assert earned.wage.minor == pytest.approx(1911, rel=0.01)
    assert earned.hour.minor - earned.wage.minor == 700


def test_before_it_is_told_the_hour_stands_beside_what_overhead_leaves_of_it(drawn, shop):
    wage = earning.to_come(quoting.prospect(drawn, shop))
    assert wage.hour - wage.left == 700
    assert wage.to_aim == 3100 - wage.hour > 0
    assert wage.quoted == 0


def test_while_it_is_made_the_quoted_minutes_count(agreed, shop):
    wage = earning.agreed(agreed, agreed.quotes.get(), shop)
    assert (wage.minutes, wage.quoted) == (876, 0)


def test_after_the_job_the_minutes_it_took_count_and_say_what_to_quote_next(agreed, shop):
    quote = agreed.quotes.get()
    _takes(agreed, 1200)
    wage = earning.agreed(agreed, quote, shop)
    assert (wage.minutes, wage.quoted) == (1200, 876)
    assert wage.hour == round((quote.net - quote.paid_out) * 60 / 1200)
    whole = math.ceil((quote.paid_out + 3100 * 1200 / 60) / 100) * 100  # up to the whole dollar
    assert wage.net_at_aim == whole


def test_what_was_added_and_taken_off_since_counts_in_the_hour(agreed, shop, ada):
    """468.00 and 40.00 more; 15.00 off with its tax is 14.02 before tax; what was taken back does not."""
    quote = agreed.quotes.agreed().get()
    adding.add(agreed, words="A second border", minor=4000, taxed=True, key="a", by=ada)
    adding.credit(agreed, words="For the wait", minor=1500, key="c", by=ada)
    back = adding.add(agreed, words="Typed wrong", minor=9900, taxed=True, key="w", by=ada)
    giving_back.take_back(back, by=ada)
    _takes(agreed, 1200)
    wage = earning.agreed(agreed, quote, shop)
    assert wage.hour == round((46800 + 4000 - 1402 - quote.paid_out) * 60 / 1200)


def test_the_page_says_both_before_and_after(client, ada, agreed):
    client.force_login(ada)
    address = f"/quilts/{agreed.number}/account/"
    before = client.get(address).content.decode()
    assert "is left after overhead" in before
    assert "would have reached it" in before
    assert "Next time" not in before
    _takes(agreed, 1200)
    after = client.get(address).content.decode()
    assert "20\xa0h of yours; 14\xa0h\xa036 were quoted" in after
    assert "Next time" in after


def test_what_was_called_off_earns_no_hour_and_says_when(client, ada, agreed):
    client.force_login(ada)
    agreed.cancel(by=ada)
    shown = client.get(f"/quilts/{agreed.number}/account/").content.decode()
    assert "Called off today" in shown
    assert "an hour" not in shown
    assert "Hand it over" not in shown


def _takes(order, minutes):
    """Let every stage be done, and one of them have taken all the minutes."""
    order.stages.update(done_at=timezone.now(), spent=0)
    Stage.objects.filter(pk=order.stages.first().pk).update(spent=minutes)
