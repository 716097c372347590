"""Papers: what stands on each, frozen when it is made, read back by an independent reader."""

from __future__ import annotations

import hashlib
import io
from datetime import timedelta

import pytest
from pypdf import PdfReader

from orders import papers, planning
from orders.background import errands
from orders.models import Consent, Design, Entry, Paper, issue_quote
from orders.papers import press
from orders.papers.saying import in_words

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _kept_apart(settings, tmp_path):
    settings.DATA_DIR = tmp_path


@pytest.fixture
def drawn(shop, order, twelve_shirts, shelf, ada):
    """Return the order with a layout and a yes to cut for its first six pieces."""
    best = planning.plan_order(order, shop).options[0]
    Design.objects.create(order=order).draw(best.layout.quilt, "Even grid", by=ada)
    planning.keep_blocks(order, best.layout.quilt)
    six = [shirt.pieces.get() for shirt in twelve_shirts[:6]]
    Consent.objects.to_cut(order, six, said_by="the mother", how="phone", by=ada)
    return order


@pytest.fixture
def quote(shop, drawn, ada):
    pricing = planning.plan_order(drawn, shop, drawn=drawn.design.quilt).options[0].pricing
    until = shop.today() + timedelta(days=14)
    return issue_quote(drawn, pricing, by=ada, valid_until=until, size="50 × 66 in before the first wash")


def text_of(paper: Paper) -> str:
    errands.run_due()
    reader = PdfReader(io.BytesIO(papers.bytes_of(paper)))
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert reader.metadata.title
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


def test_what_came_in_says_the_count_in_words_and_figures(order, twelve_shirts, ada):
    text = text_of(papers.intake(order.bags.get(), by=ada))
    assert "Twelve garments (12)" in text
    assert "Brought by the aunt, by hand" in text
    assert "No flaws seen" in text


def test_a_quote_says_its_lines_and_total_to_the_cent(quote, ada):
    text = text_of(papers.quote(quote, by=ada))
    assert "$468.00" in text
    assert "A deposit of $234.00 holds your spot." in text
    assert "[the maker’s own words on cancelling after cutting]" in text


def test_a_quote_has_one_paper_and_changing_the_order_does_not_change_it(quote, ada):
    paper = papers.quote(quote, by=ada)
    quote.order.title = "Another name"
    quote.order.save()
    assert papers.quote(quote, by=ada) == paper
    assert "The aunt’s surprise" in text_of(paper)


def test_the_makers_own_terms_take_the_place_of_the_gap(quote, ada):
    quote.terms = "Before cloth is bought, all but $20 comes back.\nAfter cutting, nothing does."
    text = text_of(papers.quote(quote, by=ada))
    assert "After cutting, nothing does." in text
    assert "own words on cancelling" not in text


def test_a_payment_has_one_receipt_with_its_number_and_what_is_left(shop, quote, aunt, ada):
    order, day = quote.order, shop.today()
    about = {"order": order, "day": day, "currency": "USD"}
    charge = [("sales", "owed", quote.net)]
    Entry.objects.record(key="c", kind="charge", legs=charge, by=ada, words="Quilt", **about)
    paid = Entry.objects.record(
        key="p", kind="payment", legs=[("owed", "cash", 23400)], by=ada, words="Deposit", receipt=True,
        payer=aunt, method="cash", **about,
    )  # fmt: skip
    paper = papers.deposit(paid, by=ada)
    assert papers.deposit(paid, by=ada) == paper
    text = text_of(paper)
    assert "Receipt 1" in text
    assert "$234.00" in text
    assert "Left to pay: $234.00" in text
    final = text_of(papers.receipt(order, by=ada))
    assert "Deposit, cash" in final
    assert "Left to pay: $234.00" in final


def test_the_cut_list_names_sizes_heat_and_who_has_no_yes(drawn, ada):
    text = text_of(papers.cut_list(drawn, by=ada))
    assert "6 of 12 have a yes to cut" in text
    assert text.count("no yes yet") == 6
    assert "14 1/2 × 14 1/2 in" in text.replace("½", " 1/2").replace("  ", " ")
    assert "300 °F" in text


def test_the_care_card_carries_its_cautions(drawn, twelve_shirts, ada):
    plain = text_of(papers.care(drawn, by=ada))
    assert "Machine wash cold" in plain
    assert "12 months" not in plain
    twelve_shirts[0].flags = ["infant", "snaps", "scent"]
    twelve_shirts[0].save()
    text = text_of(papers.care(drawn, by=ada))
    assert "Not for the sleep space of a baby under 12 months" in text
    assert "Please do not wash it" in text


def test_the_card_for_the_day_tells_a_day_only_where_one_was_agreed_and_no_price(drawn, ada, shop):
    drawn.recipient, drawn.promised_for = "a niece", None
    drawn.save()
    text = text_of(papers.party_card(drawn, by=ada))
    assert "For a niece" in text
    assert "It follows as soon as its last stitch is sewn." in text
    assert "$" not in text
    drawn.promised_for = shop.today() + timedelta(days=40)
    drawn.save()
    assert "It is planned for" in text_of(papers.party_card(drawn, by=ada))
    drawn.promised_for = shop.today() - timedelta(days=1)
    drawn.save()
    assert "It is planned for" not in text_of(papers.party_card(drawn, by=ada))


def test_the_bytes_are_hashed_and_kept_once(order, twelve_shirts, ada):
    paper = papers.intake(order.bags.get(), by=ada)
    assert papers.bytes_of(paper) is None
    errands.run_due()
    paper.refresh_from_db()
    first = papers.bytes_of(paper)
    assert hashlib.sha256(first).hexdigest() == paper.sha256
    errands.run_due()
    assert papers.bytes_of(paper) == first


@pytest.mark.parametrize(
    "words",
    [
        "<img src=http://127.0.0.1:1/x>",
        "<link rel=attachment href='file:///etc/hostname'>",
        "{% load x %}",
        "a" * 400,
    ],
)
def test_nothing_typed_reaches_the_network_or_another_file(order, ada, words):
    bag = order.bags.get()
    bag.notes = words
    bag.save()
    paper = papers.intake(bag, by=ada)
    errands.run_due()
    reader = PdfReader(io.BytesIO(papers.bytes_of(paper)))
    assert reader.attachments == {}
    assert "EmbeddedFiles" not in str(reader.trailer["/Root"].get("/Names", ""))


def test_the_press_opens_only_what_belongs_to_the_paper():
    fetcher = press.only_ours({})
    assert fetcher.fetch("paper:atkinson-400.woff2").read()
    for address in ("file:///etc/hostname", "http://127.0.0.1/", "paper:photo-1", "paper:../settings.py"):
        with pytest.raises(ValueError, match="not part of this paper"):
            fetcher.fetch(address)


def test_two_forty_shirt_papers_stay_small(order, ada):
    from tests.cast import add_shirt

    bag = order.bags.get()
    for number in range(1, 41):
        add_shirt(bag, number, flaws="a small hole at the hem, a faded collar and a long sentence about it")
    paper = papers.intake(bag, by=ada)
    errands.run_due()
    assert len(papers.bytes_of(paper)) < 500_000


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (0, "none"),
        (12, "twelve"),
        (20, "twenty"),
        (48, "forty-eight"),
        (100, "one hundred"),
        (215, "two hundred and fifteen"),
    ],
)
def test_a_count_is_said_in_words(number, words):
    assert in_words(number) == words


def test_without_its_libraries_a_paper_says_so_and_how_to_get_them(client, order, ada, monkeypatch):
    monkeypatch.setattr(press, "is_ready", lambda: False)
    paper = papers.intake(order.bags.get(), by=ada)
    errands.run_due()
    client.force_login(ada)
    page = client.get(f"/papers/{paper.number}.pdf")
    assert "apt-get install libpango" in page.text
    assert "Refresh" not in page


def test_what_was_seen_at_the_door_stands_on_the_paper(order, ada):
    bag = order.bags.get()
    bag.mold = True
    bag.save()
    assert "Seen at the door: mold." in text_of(papers.intake(bag, by=ada))
