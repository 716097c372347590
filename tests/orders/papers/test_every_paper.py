"""Every paper on letter and A4, read back by pypdf (an independent reader): text, pages, tags, numbers."""

from __future__ import annotations

import pytest

from tests.orders.papers.making import SIZES, every_paper, pdf_of, read, words_of

pytestmark = [pytest.mark.django_db, pytest.mark.slow]

SAYS = {
    "estimate": ("About $430.00 to $610.00", "not a promise of a date", "What is not in it"),
    "intake": ("Twelve garments (12)", "Brought by the aunt", "Handed in by", "Received by"),
    "quote": ("$500.76", "give or take 2 in", "holds your spot", "Accepted by, name"),
    "picture": ("Left out, and why", "yes, sew it like this", "picture 1"),
    "deposit": ("Receipt 1", "$250.38", "towards the agreed $500.76", "Left to pay"),
    "receipt": ("Total", "Paid", "Left to pay: $250.38"),
    "cut list": ("No yes, no blade", "Heat limit"),
    "cloth cuts": ("Cloth to cut", "Cut size"),
    "quilter": ("Top edge", "What melts, what breaks a needle", "TOP EDGE"),
    "materials": ("Usable width", "To buy"),
    "damage": ("melted", "The foil lifted at one edge.", "Every piece of it is kept."),
    "care": ("Machine wash cold", "For the sewn label"),
    "hand over": ("Collected by", "eleven (11)", "one (1)"),
    "unclaimed": ("40 days", "Your quilt is ready.", "registered letter", "It decides nothing"),
    "party card": ("Your quilt is being made of your shirts.", "It is planned for", "From "),
    "booklet": ("Twelve garments (12)", "Worn on the lake, every summer.", "row 1 from the top"),
    "in care": ("An aunt of Ferncliff", "555 0131"),
}  # fmt: skip
MAY_BE_LONGER = {"intake": 3, "cut list": 3, "cloth cuts": 6, "booklet": 5, "quote": 2}


@pytest.fixture
def made(shop, agreed, twelve_shirts, ada, settings, tmp_path):
    settings.DATA_DIR = tmp_path
    return every_paper(shop, agreed, twelve_shirts, ada)


def test_each_is_tagged_numbered_and_says_what_it_must_on_its_own_sheet(made):
    for number, (kind, paper) in enumerate(made.items()):
        size = list(SIZES)[number % 2]
        reader = read(pdf_of(paper, size=size))
        text = words_of(reader)
        missing = [words for words in SAYS[kind] if words.lower() not in text.lower()]
        assert not missing, (kind, missing, text)
        is_tagged(reader)
        assert "None" not in text.split(), kind
        assert len(reader.pages) <= MAY_BE_LONGER.get(kind, 1), (kind, len(reader.pages))
        is_numbered(reader, kind, paper, size)
    says_nothing_of_a_sale(words_of(read(pdf_of(made["unclaimed"]))).lower())
    makes_no_excuse(words_of(read(pdf_of(made["damage"]))).lower())


def is_tagged(reader):
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/StructTreeRoot"]["/K"]
    assert root["/Lang"].startswith("en")
    assert reader.metadata.title


def is_numbered(reader, kind, paper, size):
    pages = len(reader.pages)
    for number, page in enumerate(reader.pages, start=1):
        assert (round(page.mediabox.width), round(page.mediabox.height)) == SIZES[size], kind
        foot = " ".join(page.extract_text().split())
        assert f"page {number} of {pages}" in foot, kind
        assert kind == "quote" or f"paper {paper.number}" in foot.lower(), kind


def says_nothing_of_a_sale(text):
    for word in ("sell", "sale", "sold", "dispose", "auction", "charity", "property", "abandon"):
        assert word not in text, word


def makes_no_excuse(text):
    for word in ("ada", "sorry", "fault", "unfortunately", "accident", "because of"):
        assert word not in text.split(), word
