"""What papers about money must say beyond the sums, read back by pypdf (an independent reader)."""

from __future__ import annotations

import pytest

from orders import papers
from orders.account import giving_back, hourly, quoting
from orders.models import Order
from orders.papers import press
from orders.papers.money import quote_facts
from tests.orders.papers.making import pdf_of, read, words_of

pytestmark = [pytest.mark.django_db, pytest.mark.slow]

SETTLING = {
    "rounds": {"included": 2, "each": 2000},
    "called_off": {
        "before cloth": {"fee": 2500, "share": "0", "materials": False},
        "cloth bought": {"fee": 2500, "share": "0.1", "materials": True},
        "cut": {"fee": 0, "share": "1", "materials": False},
    },
}


def printed(paper):
    return words_of(read(pdf_of(paper)))


def a_repair(aunt, ada, title="A torn corner"):
    return Order.objects.open(title=title, customer=aunt, by=ada, kind="repair")


def mending(order, shop, ada, *, minutes=150, most=None):
    hourly.put(order, "Mending", minutes=minutes, an_hour=4000, most=most, currency=shop.currency, by=ada)
    return order


def test_a_gift_certificate_names_no_quilt(shop, ada):
    sold = giving_back.sell_certificate(
        minor=15000, bought_by="A partner", given_to="a nephew", method="card", key="c", by=ada
    )
    text = printed(papers.deposit(sold, by=ada))
    assert "$150.00" in text
    assert "None" not in text
    assert "No." not in text


def test_a_quote_says_what_stays_due_at_each_stage_as_the_owner_set_it(shop, aunt, ada):
    shop.settling = SETTLING
    shop.save()
    quote = quoting.issue(mending(a_repair(aunt, ada), shop, ada), shop, by=ada)
    text = printed(papers.quote(quote, by=ada))
    assert "Called off before cloth is bought: $25.00 stays due." in text
    cost = "$25.00 and 10 % of the price and what the cloth cost stay due."
    assert f"Called off after cloth is bought: {cost}" in text
    assert "Called off after the first cut: the whole price stays due." in text


def test_a_quote_says_nothing_of_calling_off_where_the_owner_set_nothing(shop, aunt, ada):
    quote = quoting.issue(mending(a_repair(aunt, ada), shop, ada), shop, by=ada)
    assert "Called off" not in printed(papers.quote(quote, by=ada))


def test_a_repair_has_no_layout_to_go_round_and_nothing_of_hers_to_cut(shop, aunt, ada):
    shop.settling = SETTLING
    shop.save()
    quote = quoting.issue(mending(a_repair(aunt, ada), shop, ada, most=9000), shop, by=ada)
    text = printed(papers.quote(quote, by=ada))
    assert "Mending, 2 h 30 of work at $40.00 an hour, at most $90.00" in text
    assert "layout round" not in text
    assert "yes to cut" not in text


def test_two_told_together_stand_on_one_paper_each_with_its_sum(shop, aunt, ada):
    corner = mending(a_repair(aunt, ada), shop, ada)
    binding = mending(a_repair(aunt, ada, "A frayed binding"), shop, ada, minutes=90)
    text = printed(papers.quote(quoting.issue(corner, shop, by=ada, also=[binding]), by=ada))
    assert "A torn corner" in text
    assert "A frayed binding" in text
    assert "All together $160.00" in text


def test_with_long_names_nobody_accepts_a_price_below_an_empty_page(quote, ada):
    """The line to sign goes on with the terms, whatever the first page holds."""
    facts = quote_facts(quote) | {
        "title": "Forty tees of a whole school life " * 3,
        "for": "Featherstone " * 18,
    }
    facts |= {"terms": ["The maker’s own words on what happens when plans change."] * 4, "small_parts": True}
    for size in ("letter", "a4"):
        about = {"number": 1, "kind": "Quote", "maker": "The workroom"}
        pages = [
            page.extract_text() for page in read(press.set_paper("quote", facts, about, size=size)).pages
        ]
        assert "Accepted by, name" in pages[-1]
        assert "If plans change" in pages[-1]


def test_the_size_on_a_quote_is_said_as_in_a_sentence(quote):
    assert quote_facts(quote)["size"] == "50 × 66 inches before the first wash"
