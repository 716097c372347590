"""Colors are called approximate wherever a customer sees them: page, picture, papers."""

from __future__ import annotations

import io
from datetime import timedelta

import numpy as np
import pytest
from PIL import Image

from orders import papers
from orders.background import errands
from orders.models import Link
from orders.quilt import quilt_print
from orders.quilt.quilt_picture import View

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _kept_apart(settings, tmp_path):
    settings.DATA_DIR = tmp_path


def test_her_page_says_so(client, drawn, shop, ada):
    _, token = Link.objects.give_out(drawn, until=shop.today() + timedelta(days=30), by=ada)
    assert (
        "Colors on a screen are approximate" in client.get(f"/for-you/{token}/", follow=True).content.decode()
    )


def test_the_picture_says_so_in_its_lower_margin(drawn, monkeypatch):
    def margin():
        picture = Image.open(io.BytesIO(quilt_print.jpeg_of(drawn.design.quilt, View())))
        return np.asarray(picture.convert("L"))[-quilt_print.EDGE + 4 : -2]

    said = margin()
    monkeypatch.setattr(quilt_print, "APPROXIMATE", "")
    assert said.min() < 100 < margin().min()


def test_a_paper_with_the_quilt_on_it_says_so(drawn, ada, client):
    pypdf = pytest.importorskip("pypdf")
    paper = papers.receipt(drawn, by=ada)
    errands.run_due()
    pages = pypdf.PdfReader(io.BytesIO(papers.bytes_of(paper))).pages
    assert "Colors are approximate" in " ".join(" ".join(page.extract_text() for page in pages).split())


def test_the_list_of_what_came_in_says_so_where_it_shows_the_garments(order, twelve_shirts, ada):
    pypdf = pytest.importorskip("pypdf")
    paper = papers.intake(order.bags.get(), by=ada)
    errands.run_due()
    pages = pypdf.PdfReader(io.BytesIO(papers.bytes_of(paper))).pages
    assert "Colors are approximate" in " ".join(" ".join(page.extract_text() for page in pages).split())
