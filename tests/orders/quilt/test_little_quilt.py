"""The little quilt says in its picture and in its sentence how far the quilt is, and no more."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from orders.models import Block, Order
from orders.quilt import layouts
from orders.quilt.answers import answer
from orders.quilt.little_quilt import Look, draw, draw_wish, finished, sentence
from orders.templatetags.quilts import little_quilt
from planner.layout import grid_quilt
from planner.quilt import Border, Sashing
from planner.units import INCH, Sides, Size

COLORS = {"01F": "#2350b0", "02F": "#e2a71e", "03F": "#111111", "04F": "#fafafa"}
CLOTH = {"sashing": "#234a34", "cornerstone": "#d0a020", "binding": "#101820"}


def four(**trims):
    return grid_quilt(2, 2, Size(14 * INCH, 14 * INCH), pieces=sorted(COLORS), **trims)


def drawn(look, quilt=None):
    """Return the picture as a tree; it is well-formed or this fails."""
    return ElementTree.fromstring(str(draw(quilt or four(sashing=Sashing(2 * INCH, True, True)), look)))


def fills(picture):
    return [each.get("fill") for each in picture.iter("rect")]


def at(*steps):
    return Look("No. 1", COLORS, {f"{n + 1:02d}": step for n, step in enumerate(steps)}, CLOTH)


def test_a_block_that_is_not_cut_is_a_running_stitch_with_a_pale_tint():
    picture = drawn(at())
    blocks = [each for each in picture.iter("rect") if each.get("class") == "un"]
    assert [(each.get("fill"), each.get("fill-opacity")) for each in blocks] == [
        (color, ".3") for color in COLORS.values()
    ]


def test_a_cut_block_is_smaller_than_its_place_with_loose_threads():
    place, block = blocks_of(drawn(at("cut")))[:2]
    assert float(block.get("width")) < float(place.get("width"))
    assert block.get("stroke-dasharray") == "1 1.5 .8 2 1.2 1.3"


def test_a_trimmed_block_has_a_white_edge():
    assert blocks_of(drawn(at("trimmed")))[1].get("stroke") == "#fff"


def test_a_block_that_is_sewn_in_fills_its_place():
    block = blocks_of(drawn(at("joined")))[0]
    assert (block.get("width"), block.get("fill"), block.get("fill-opacity")) == ("56", "#2350b0", None)


def blocks_of(picture):
    """Return what is drawn at the place of the first block, in order."""
    return [
        each
        for each in picture.iter("rect")
        if 8 <= float(each.get("x")) < 20 and 8 <= float(each.get("y")) < 20
    ]


def test_the_cloth_round_the_blocks_is_a_breath_until_the_top_is_sewn():
    sewn = finished("No. 1", colors=COLORS, cloth=CLOTH)
    assert drawn(at()).find("rect").get("fill-opacity") == ".14"
    assert drawn(sewn).find("rect").get("fill-opacity") is None
    assert fills(drawn(sewn)).count("#d0a020") == 9


def test_a_border_lies_round_the_sashing():
    border = Border(Sides.all_round(4 * INCH))
    look = finished("No. 1", colors=COLORS, cloth={**CLOTH, "border": "#884400"})
    picture = drawn(look, four(sashing=Sashing(2 * INCH), borders=(border,)))
    assert fills(picture)[:2] == ["#884400", "#234a34"]
    assert picture.findall("rect")[1].get("x") == "16"


def test_quilting_lines_and_a_solid_edge_come_last():
    quilted = Look("No. 1", COLORS, {}, CLOTH, is_top_done=True, is_quilted=True)
    bound = finished("No. 1", colors=COLORS, cloth=CLOTH)
    assert 'class="quilting"' in draw(four(), quilted)
    assert 'class="edge"' in draw(four(), quilted)
    assert 'class="edge"' not in draw(four(), bound)
    assert 'stroke="#101820"' in draw(four(), bound)


@pytest.mark.parametrize(
    ("look", "words"),
    [
        (at(), "No. 1: 4 blocks, none cut yet."),
        (at("cut"), "No. 1: 4 blocks, 1 cut, 3 to go."),
        (
            at("joined", "trimmed", "fused", "cut"),
            "No. 1: 4 blocks, 1 sewn in, 1 fused and trimmed, 1 fused, 1 cut.",
        ),
        (Look("No. 1", is_top_done=True), "No. 1: 4 blocks, top sewn together."),
        (Look("No. 1", is_top_done=True, is_quilted=True), "No. 1: 4 blocks, quilted, not bound yet."),
        (finished("No. 1", colors={}, cloth={}), "No. 1: 4 blocks, bound."),
    ],
)  # fmt: skip
def test_the_sentence_says_what_the_picture_shows(look, words):
    assert sentence(four(), look) == words
    assert drawn(look, four()).get("aria-label") == words


def test_before_a_layout_there_is_a_pencil_outline_of_the_size_with_the_number_of_shirts():
    picture = ElementTree.fromstring(str(draw_wish("No. 1", Size(50 * INCH, 66 * INCH), 1)))
    assert picture.get("aria-label") == "No. 1: not laid out yet, 1 shirt logged."
    assert picture.get("viewBox") == "-2 -2 204 268"
    assert picture.find("text").text == "1"


def test_no_color_is_in_a_style_attribute_and_a_name_cannot_break_out():
    picture = draw(four(), Look('<script>"&', COLORS))
    assert "style=" not in picture
    assert "<script>" not in picture
    assert ElementTree.fromstring(str(picture)).get("aria-label").startswith('<script>"&: 4 blocks')


@pytest.fixture
def laid_out(order, shop, shelf, twelve_shirts, ada):
    order.change(seen=1, cloth={"sashing": "Forest", "cornerstone": "Gold"})
    offer = answer(order, shop).options[0]
    layouts.choose(order, offer.layout.quilt, "chosen", minutes=(), seen=0, by=ada)
    return order


@pytest.mark.django_db
def test_an_order_is_drawn_in_its_own_colors_and_as_far_as_it_is(laid_out):
    laid_out.blocks.filter(cell__in=["01", "02"]).update(progress=Block.Progress.CUT)
    picture = little_quilt(Order.objects.with_little_quilt().get())
    assert f"No. {laid_out.number}, The aunt’s surprise: 12 blocks, 2 cut, 10 to go." in picture
    assert 'fill="#234a34" fill-opacity=".14"' in picture
    assert picture.count('fill="#2350b0" fill-opacity=".3"') == 5
    assert little_quilt(Order.objects.get()) == picture


@pytest.mark.django_db
def test_an_order_without_layout_counts_the_shirts_that_are_here(order, twelve_shirts, ada):
    twelve_shirts[0].give_back(by=ada)
    assert "11 shirts logged" in little_quilt(Order.objects.with_little_quilt().get())
    assert "11 shirts logged" in little_quilt(Order.objects.get())


@pytest.mark.django_db
def test_little_quilts_cost_the_same_queries_for_one_order_as_for_many(laid_out, aunt, ada):
    one = queries()
    for number in range(5):
        Order.objects.open(title=f"Another {number}", customer=aunt, by=ada)
    assert queries() == one


def queries():
    with CaptureQueriesContext(connection) as asked:
        pictures = [little_quilt(order) for order in Order.objects.with_little_quilt()]
    assert all(re.match("<svg", picture) for picture in pictures)
    return len(asked)
