"""Every receipt number has a paper: a tip, money given back or taken back, a bounce, a certificate."""

from __future__ import annotations

import io

import pytest
from pypdf import PdfReader

from orders import papers
from orders.account import adding, giving_back, money
from orders.background import errands
from orders.models import Paper

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _kept_apart(settings, tmp_path):
    settings.DATA_DIR = tmp_path


def text_of(paper: Paper) -> str:
    errands.run_due()
    reader = PdfReader(io.BytesIO(papers.bytes_of(paper)))
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


@pytest.fixture
def paid(agreed, ada):
    return money.take_payment(
        agreed, minor=25038, payer=agreed.customer, method="check", key="deposit", by=ada
    )


def test_a_tip_has_a_receipt_that_pays_for_nothing(agreed, ada):
    tip = adding.take_tip(agreed, minor=2000, payer=agreed.customer, method="cash", key="tip", by=ada)
    text = text_of(papers.deposit(tip, by=ada))
    assert "$20.00" in text
    assert "A tip from An aunt of Ferncliff" in text
    assert "pays for nothing that is owed" in text


def test_money_given_back_says_to_whom_and_of_which_receipt(paid, ada):
    back = giving_back.give_back(paid, minor=5000, method="cash", key="back", by=ada)
    paper = papers.deposit(back, by=ada)
    text = text_of(paper)
    assert "$50.00" in text
    on = " ".join(paper.made_of["on"].split())
    assert f"Given back to An aunt of Ferncliff on {on}, by cash, of receipt 1" in text
    assert "Left to pay: $300.38" in text


def test_a_bounce_says_which_receipt_does_not_count(paid, ada):
    text = text_of(papers.deposit(giving_back.bounced(paid, by=ada), by=ada))
    assert "did not come" in text
    assert "receipt 1 does not count" in text
    assert "Left to pay: $500.76" in text


def test_a_receipt_taken_back_says_so(paid, ada):
    paper = papers.deposit(giving_back.take_back(paid, by=ada), by=ada)
    assert paper.kind == Paper.Kind.TAKEN_BACK
    assert "Receipt 1 for An aunt of Ferncliff does not count" in text_of(paper)


def test_a_certificate_has_a_paper_with_its_number_and_one_from_before_as_well(shop, ada):
    sold = giving_back.sell_certificate(
        minor=15000, bought_by="A partner", given_to="a nephew", method="card", key="one", by=ada
    )
    text = text_of(papers.deposit(sold, by=ada))
    assert "Gift certificate 1" in text
    assert "Bought by A partner, for a nephew" in text
    assert "$150.00" in text
    older = giving_back.sell_certificate(
        minor=9000, bought_by="A friend", given_to="", method="before", key="two", by=ada
    )
    again = text_of(papers.deposit(older, by=ada))
    assert "Gift certificate 2" in again
    assert "Receipt" not in again


def test_sent_twice_there_is_one_paper(paid, ada):
    tip = adding.take_tip(paid.order, minor=500, payer=None, method="cash", key="tip", by=ada)
    assert papers.deposit(tip, by=ada) == papers.deposit(tip, by=ada)


def test_each_is_made_with_its_entry_on_the_page(client, ada, paid):
    client.force_login(ada)
    address = f"/quilts/{paid.order.number}/account/payments/{paid.receipt_number}/bounce/"
    client.post(address)
    client.post(address)
    assert Paper.objects.filter(kind=Paper.Kind.BOUNCED).count() == 1
    sold = {"sold-key": "k", "sold-amount": "80", "sold-bought_by": "A friend", "sold-method": "cash"}
    client.post("/books/certificates/", sold)
    paper = Paper.objects.get(kind=Paper.Kind.GIFT)
    assert f'href="/papers/{paper.number}' in client.get("/books/certificates/").content.decode()


def test_a_helper_opens_none_of_them(client, bo, paid, ada):
    tip = adding.take_tip(paid.order, minor=500, payer=None, method="cash", key="tip", by=ada)
    paper = papers.deposit(tip, by=ada)
    client.force_login(bo)
    assert client.get(f"/papers/{paper.number}/").status_code == 404
