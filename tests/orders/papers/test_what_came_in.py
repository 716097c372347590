"""The receipt of a bag: whatever its length, nobody signs below an empty page."""

from __future__ import annotations

import io

import pytest
from PIL import Image
from pypdf import PdfReader

from orders import papers
from orders.background import errands
from orders.papers import press
from orders.papers.work import intake_facts
from tests.cast import add_shirt

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("more", [5, 8])
def test_the_signatures_of_a_long_bag_stay_with_the_words_they_are_for(
    more, order, twelve_shirts, ada, settings, tmp_path
):
    settings.DATA_DIR = tmp_path
    bag = order.bags.get()
    bag.count_again(12 + more, by=ada)
    for number in range(13, 13 + more):
        add_shirt(bag, number)
    paper = papers.intake(bag, by=ada)
    errands.run_due()
    pages = PdfReader(io.BytesIO(papers.bytes_of(paper))).pages
    last = pages[-1].extract_text()
    assert len(pages) == 2
    assert "Handed in by" in last
    assert "The yes to cut" in last
    assert f"({12 + more}), bag {bag.pk}:" in last


@pytest.mark.parametrize("size", ["letter", "a4"])
@pytest.mark.parametrize("few", [5, 8])
def test_a_few_garments_with_photos_and_the_signatures_for_them_are_one_page(
    few, size, order, twelve_shirts, tmp_path
):
    picture = tmp_path / "tee.png"
    Image.new("RGB", (80, 80), "teal").save(picture)
    facts = intake_facts(order.bags.get())
    facts["items"] = [each | {"photo": 1, "wash": "To be washed"} for each in facts["items"][:few]]
    facts["yes"] = None
    pdf = press.set_paper(
        "intake", facts, {"kind": "", "number": 1, "maker": ""}, size=size, photos={1: picture}
    )
    (page,) = PdfReader(io.BytesIO(pdf)).pages
    assert "Handed in by" in page.extract_text()
