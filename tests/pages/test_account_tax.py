"""Tax as it comes out on a quote, typed and issued through the pages: rounded by line, and once for all.

The rule is that of the Streamlined Sales and Use Tax Agreement, section 324 (alike in R.I. Gen. Laws
44-18.1-25, N.D.C.C. 57-39.4-25, K.S.A. 79-3676 and M.G.L. ch. 64I s. 5): carry to the third decimal,
round up when that is greater than 4; per item or per invoice.
"""

import pytest

from orders.models import Order, Quote, Shop

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(client, ada):
    client.force_login(ada)
    return client


@pytest.fixture
def repair(order):
    Order.objects.update(kind="repair")
    return Order.objects.get()


def set_tax(owner, rate, per, **more):
    kinds = dict.fromkeys(("labour-0", "materials-0", "outside-0", "shipping-0", "credit-0"), "on")
    said = {"words-0": "Sales tax", "rate-0": rate, "tax_per": per, **kinds, **more}
    assert owner.post("/workroom/tax/", said).status_code == 302


def quoted(owner, order, amounts):
    for number, amount in enumerate(amounts, start=1):
        line = {"line-words": f"Patch {number}", "line-kind": "labour", "line-amount": amount}
        assert owner.post(f"/quilts/{order.number}/account/lines/", line).status_code == 302
    assert owner.post(f"/quilts/{order.number}/account/quotes/").status_code == 302
    return Quote.objects.get()


@pytest.mark.parametrize(
    ("amounts", "rate", "per", "tax"),
    [
        (["12.34"], "10", "invoice", 123),  # 1.234
        (["12.35"], "10", "invoice", 124),  # 1.235
        (["1.25"], "10", "invoice", 13),  # 0.125, where half-even gives 0.12
        (["6.49"], "1", "invoice", 6),  # 0.0649, never first to 0.065 and then to 0.07
        (["0.35"] * 3, "6", "line", 6),
        (["0.35"] * 3, "6", "invoice", 6),
        (["0.09"] * 10, "6", "line", 10),
        (["0.09"] * 10, "6", "invoice", 5),
        (["36.50", "36.50"], "7", "line", 512),
        (["36.50", "36.50"], "7", "invoice", 511),
    ],
)
def test_the_published_cases_come_out_on_the_quote(owner, repair, amounts, rate, per, tax):
    set_tax(owner, rate, per)
    assert quoted(owner, repair, amounts).tax == tax


def test_a_tax_rounded_line_by_line_says_so_on_the_quote_and_its_paper(owner, repair):
    set_tax(owner, "7", "line")
    quote = quoted(owner, repair, ["36.50", "36.50"])
    assert quote.taxes[0]["words"] == "Sales tax, rounded line by line"
    paper = repair.papers.get().made_of
    assert paper["taxes"] == [{"words": "Sales tax, rounded line by line", "amount": "$5.12"}]
    shown = owner.get(f"/quilts/{repair.number}/account/").content.decode()
    assert "Sales tax, rounded line by line" in shown


def test_where_both_ways_agree_nothing_is_said_of_rounding(owner, repair):
    set_tax(owner, "7", "line")
    assert quoted(owner, repair, ["36", "45"]).taxes[0]["words"] == "Sales tax"


def test_where_the_way_is_chosen_an_example_of_the_shops_own_rate_tells_them_apart(owner, shop):
    set_tax(owner, "7", "invoice")
    shown = " ".join(owner.get("/workroom/tax/").content.decode().split())
    words = (
        "At your 7 % it can differ: on two lines of $36.50, the whole quote is $73.00 and its tax $5.11; "
        "for each line it is $2.56, together $5.12."
    )
    assert words.replace("7 %", "7\N{NO-BREAK SPACE}%") in shown or words in shown


def test_without_a_tax_no_example_is_made_up(owner, shop):
    assert Shop.objects.get().shop_rules().terms.taxes == ()
    assert "it can differ" not in owner.get("/workroom/tax/").content.decode()
