"""What the receipt of a bag says of the yes to cut."""

from __future__ import annotations

import io

import pytest
from pypdf import PdfReader

from orders import papers
from orders.background import errands
from orders.models import Order, Piece, Shirt
from orders.yes import yes_to_cut
from orders.yes.yes_to_cut import Said

pytestmark = pytest.mark.django_db
AUNT = "An aunt of Ferncliff"


@pytest.fixture(autouse=True)
def _folder(settings, tmp_path):
    settings.DATA_DIR = tmp_path


def text_of(order, by):
    paper = papers.intake(order.bags.get(), by=by)
    errands.run_due()
    reader = PdfReader(io.BytesIO(papers.bytes_of(paper)))
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


def say(order, by, numbers, **change):
    pieces = Piece.objects.filter(shirt__number__in=numbers).select_related("shirt")
    yes_to_cut.say_for_pile(order, pieces, Said(AUNT, "person", **change), by=by)


def test_before_any_yes_it_can_be_said_on_the_paper(order, twelve_shirts, ada):
    text = text_of(order, ada)
    assert f"No yes to cut has been given. {AUNT} decides, and a cut cannot be undone." in text
    assert "Cut all but numbers" in text
    assert f"Yes to cut, {AUNT}" in text


def test_a_yes_at_the_table_stands_on_the_receipt(order, twelve_shirts, ada, shop):
    say(order, ada, range(1, 11))
    text = text_of(order, ada)
    assert f"{AUNT} said yes in person on" in text
    assert "to: 01F, 02F, 03F, 04F, 05F, 06F, 07F, 08F, 09F, 10F." in text
    assert "Not asked, or not agreed, and not to be cut: 11F, 12F." in text
    assert "No yes to cut has been given" not in text


def test_single_shirts_and_a_yes_for_the_day_say_so(order, twelve_shirts, ada):
    shirt = Shirt.objects.get(number=7)
    yes_to_cut.ask_singly(shirt, [AUNT, "Her brother"], for_the_day=True, why="signed", by=ada)
    say(order, ada, range(1, 13), for_the_day=True)
    text = text_of(order, ada)
    assert f"07 is asked about by itself: {AUNT} and Her brother, only on the day it is cut (signed)." in text
    assert "for that day only, to: 01F" in text
    assert "07F" not in text


def test_a_yes_that_was_taken_back_is_not_on_it(order, twelve_shirts, ada):
    say(order, ada, [1, 2])
    yes_to_cut.take_back_piece(order, Piece.objects.get(shirt__number=1), by=ada)
    assert "to: 02F." in text_of(order, ada)


def test_a_repair_has_no_yes_to_cut(order, twelve_shirts, ada):
    Order.objects.update(kind="repair")
    assert "The yes to cut" not in text_of(order, ada)
