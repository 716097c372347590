"""What a screen reader finds in a paper: words for each drawing, headers for each cell, fonts in the file.

ISO 14289-1 (PDF/UA-1), 7.3: a figure has an alternative text; 7.5: cells name their headers; 7.21.4: fonts
are embedded. Read by pypdf, which did not make them.
"""

from __future__ import annotations

import pytest

from orders.papers import press
from tests.orders.papers.making import every_paper, pdf_of, read

pytestmark = [pytest.mark.django_db, pytest.mark.slow]
DRAWN = ("quote", "booklet", "quilter", "cloth cuts", "materials")


@pytest.fixture
def made(shop, agreed, twelve_shirts, ada, settings, tmp_path):
    settings.DATA_DIR = tmp_path
    return every_paper(shop, agreed, twelve_shirts, ada)


def test_each_drawing_has_words_each_cell_its_headers_and_each_font_is_in_the_file(made):
    for kind in DRAWN:
        reader = read(pdf_of(made[kind]))
        elements = list(elements_of(reader.trailer["/Root"]["/StructTreeRoot"]))
        figures = [each for each in elements if each["/S"] == "/Figure"]
        assert kind == "materials" or figures, kind
        assert all(str(each.get("/Alt", "")).strip() for each in figures), kind
        for cell in (each for each in elements if each["/S"] == "/TD"):
            assert "/Headers" in cell["/A"], kind
        fonts = [font for page in reader.pages for font in fonts_of(page)]
        assert fonts, kind
        assert all("/FontFile2" in font or "/FontFile3" in font for font in fonts), kind


def elements_of(node):
    """Yield the structure elements below one, whole pages deep."""
    kids = node.get("/K", [])
    for kid in kids if isinstance(kids, list) else [kids]:
        found = kid.get_object() if hasattr(kid, "get_object") else kid
        if isinstance(found, dict) and "/S" in found:
            yield found
            yield from elements_of(found)


def fonts_of(page):
    for font in page["/Resources"]["/Font"].values():
        for below in font.get_object()["/DescendantFonts"]:
            yield below.get_object()["/FontDescriptor"]


def test_a_drawing_without_words_gets_none_and_one_with_words_gets_them_once():
    plain, named = "<svg viewBox='0 0 1 1'></svg>", '<svg role="img" aria-label="A &amp; B"><g/></svg>'
    assert press.with_titles(plain) == plain
    told = press.with_titles(named)
    assert told == '<svg role="img" aria-label="A &amp; B"><title>A &amp; B</title><g/></svg>'
    assert press.with_titles(told) == told
