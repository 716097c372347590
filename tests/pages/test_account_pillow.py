"""A pillow in the Account room: priced from the list, quoted and agreed without a layout."""

import pytest

from orders.account import agreeing, quoting
from orders.models import Order, Paper
from planner.units import INCH

pytestmark = pytest.mark.django_db
LINE = "Pillow, 16 × 16 in, 1 at $55.00"


@pytest.fixture
def owner(client, ada):
    client.force_login(ada)
    return client


@pytest.fixture
def by_the_pillow(taxed):
    taxed.rules["rules"].append({"words": "Pillow", "per": "pillow", "rate": "55"})
    taxed.save(update_fields=["rules"])
    return taxed


@pytest.fixture
def pillow(order, twelve_shirts):
    Order.objects.update(kind="pillow", width=16 * INCH, height=16 * INCH)
    order.refresh_from_db()
    return order


def account(owner, order):
    return owner.get(f"/quilts/{order.number}/account/").content.decode()


def test_a_pillow_has_its_price_without_a_layout(owner, pillow, by_the_pillow):
    shown = account(owner, pillow)
    assert LINE in shown
    assert "$58.85" in shown
    assert "Issue the quote" in shown
    assert "No price can be told yet" not in shown
    assert "A pillow without a layout is not reckoned into the weeks" in shown


def test_without_a_price_for_pillows_it_says_what_would_help(owner, pillow, taxed):
    shown = account(owner, pillow)
    assert "No price can be told yet" in shown
    assert "No layout is drawn yet" in shown
    assert "Or put a price for each pillow on the price list" in shown


def test_a_quilt_is_neither_priced_as_a_pillow_nor_told_of_one(owner, order, twelve_shirts, by_the_pillow):
    shown = account(owner, order)
    assert "No price can be told yet" in shown
    assert "pillow" not in shown.lower()


def test_a_pillow_with_a_layout_is_priced_by_its_layout(drawn, by_the_pillow):
    before = quoting.prospect(drawn, by_the_pillow).pricing
    Order.objects.update(kind="pillow")
    assert quoting.prospect(Order.objects.get(), by_the_pillow).pricing == before


def test_a_line_of_the_owners_own_stands_beside_the_pillow(pillow, by_the_pillow, ada):
    quoting.add_line(pillow, words="Zip", kind="labour", minor=850, by=ada)
    pricing = quoting.prospect(pillow, by_the_pillow).pricing
    told = [(line.words, line.amount.minor) for line in pricing.lines[:2]]
    assert told == [(LINE, 5500), ("Zip", 850)]


def test_the_least_is_told_as_such_and_a_pillow_without_a_size_has_none_in_its_line(pillow, by_the_pillow):
    by_the_pillow.rules["rules"][-1]["least"] = "60"
    (line,) = quoting.prospect(pillow, by_the_pillow).pricing.lines
    assert (line.words, line.amount.minor) == ("Pillow, 16 × 16 in, at least", 6000)
    by_the_pillow.rules["rules"][-1]["least"] = None
    pillow.width = None
    (line,) = quoting.prospect(pillow, by_the_pillow).pricing.lines
    assert (line.words, line.amount.minor) == ("Pillow, 1 at $55.00", 5500)


def test_a_discount_of_more_than_the_pillow_is_refused(pillow, by_the_pillow, ada):
    quoting.add_line(pillow, words="A friend", kind="credit", minor=5600, by=ada)
    with pytest.raises(quoting.CannotQuote, match="discounts come to more than the price"):
        quoting.prospect(pillow, by_the_pillow)


def test_a_pillow_is_quoted_on_paper_and_agreed_without_a_layout(owner, pillow, by_the_pillow):
    """55.00 in whole dollars and 7 % of it, 3.85: 58.85, of which half is 29.425, told as 29.43."""
    assert owner.post(f"/quilts/{pillow.number}/account/quotes/").status_code == 302
    quote = pillow.quotes.get()
    assert [(line["words"], line["amount"]) for line in quote.lines] == [(LINE, 5500)]
    assert (quote.net, quote.total, quote.deposit, quote.layout) == (5500, 5885, 2943, "")
    assert Paper.objects.filter(order=pillow).count() == 1
    said = {"yes-said_by": "An aunt of Ferncliff", "yes-how": "phone"}
    answer = owner.post(f"/quilts/{pillow.number}/account/quotes/{quote.number}/acceptance/", said)
    assert answer.status_code == 302
    pillow.refresh_from_db()
    assert pillow.accepted_at is not None
    shown = account(owner, pillow)
    assert "Agreed: quote 1" in shown
    assert "said yes to quote 1." in shown
    assert "The work is laid out" not in shown
    assert 'value="29.43"' in shown


def test_issued_twice_it_is_the_same_quote_and_a_yes_twice_is_one(pillow, by_the_pillow, ada):
    first = quoting.issue(pillow, by_the_pillow, by=ada)
    assert quoting.issue(pillow, by_the_pillow, by=ada) == first
    for _ in range(2):
        agreeing.accept(first, said_by="An aunt of Ferncliff", how="phone", by=ada)
    assert pillow.entries.count() == 1
