"""A quote, its deposit and its receipts in currencies without, with two and with three decimals.

Decimals of ISO 4217: JPY 0, USD 2, KWD and BHD 3.
"""

import pytest

from orders.account import money
from orders.models import Entry, Order, Quote, Shop

pytestmark = pytest.mark.django_db
YES = {"yes-said_by": "An aunt of Ferncliff", "yes-how": "phone"}

# A line, its tax at 7 %, the total, half of it first, and the rest, all as a person would write them.
CASES = [
    ("JPY", "46800", "¥3,276", "¥50,076", "¥25,038", "25038", "¥25,038"),
    ("JPY", "4685", "¥328", "¥5,013", "¥2,507", "2507", "¥2,506"),
    ("USD", "468.05", "$32.76", "$500.81", "$250.41", "250.41", "$250.40"),
    ("KWD", "46.805", "KWD 3.276", "KWD 50.081", "KWD 25.041", "25.041", "KWD 25.040"),
    ("BHD", "46.805", "BHD 3.276", "BHD 50.081", "BHD 25.041", "25.041", "BHD 25.040"),
]


@pytest.fixture
def owner(client, ada):
    client.force_login(ada)
    return client


def plain(words):
    return " ".join(words.replace("\N{NO-BREAK SPACE}", " ").split())


@pytest.mark.parametrize(("currency", "line", "tax", "total", "first", "typed", "rest"), CASES)
def test_from_the_line_to_the_last_receipt(owner, order, *, currency, line, tax, total, first, typed, rest):
    Shop.objects.update(currency=currency)
    Order.objects.update(kind="repair")
    place = f"/quilts/{order.number}/account/"
    kinds = dict.fromkeys(("labour-0", "materials-0", "outside-0", "shipping-0", "credit-0"), "on")
    owner.post("/workroom/tax/", {"words-0": "Tax", "rate-0": "7", "tax_per": "invoice", **kinds})
    said = {"line-words": "Mending", "line-kind": "labour", "line-amount": line}
    assert owner.post(f"{place}lines/", said).status_code == 302
    assert owner.post(f"{place}quotes/").status_code == 302
    assert owner.post(f"{place}quotes/1/acceptance/", YES).status_code == 302
    shown = plain(owner.get(place).content.decode())
    for words in (tax, total, first):
        assert words in shown, words
    assert f'value="{typed}"' in shown
    for key, amount in (("a", typed), ("b", plain(rest).replace("¥", "").replace("$", "").replace(",", ""))):
        amount = amount.removeprefix(f"{currency} ")
        paid = {"pay-amount": amount, "pay-payer": order.customer_id, "pay-method": "cash", "pay-key": key}
        assert owner.post(f"{place}payments/", paid).status_code == 302
    papers = [each.made_of for each in order.papers.filter(kind="deposit").order_by("pk")]
    assert [plain(each["amount"]) for each in papers] == [first, rest]
    assert (plain(papers[0]["balance"]), papers[1]["is_paid"]) == (rest, True)
    assert money.owing_of(order).is_settled
    assert Entry.objects.filter(currency=currency).count() == 3
    quote = Quote.objects.get()
    assert quote.net + quote.tax == quote.total == money.owing_of(order).charged


@pytest.mark.parametrize(("currency", "typed"), [("JPY", "25038.5"), ("USD", "1.005"), ("KWD", "1.0005")])
def test_nothing_finer_than_the_currency_is_taken(owner, order, currency, typed):
    Shop.objects.update(currency=currency)
    Order.objects.update(kind="repair")
    said = {"line-words": "Mending", "line-kind": "labour", "line-amount": typed}
    answer = owner.post(f"/quilts/{order.number}/account/lines/", said)
    assert answer.status_code == 422
    assert "finer than" in answer.content.decode()
