"""The quilter's sheet: the top as measured, what goes under it, its weight, what melts and what is hard."""

import pytest

from orders import papers
from orders.bench import top_size
from orders.bench.top_size import Measured
from orders.papers import quilter
from orders.papers.quilter import weight_in_words
from orders.planning import garment_of
from orders.quilt.quilt_weight import batting_like, cloth_like
from planner.units import INCH
from tests.orders.workbench import draw

pytestmark = pytest.mark.django_db


def quilter_facts(order):
    """Return the facts with plain blanks."""
    facts = quilter.quilter_facts(order)
    return {
        name: said.replace("\N{NO-BREAK SPACE}", " ") if isinstance(said, str) else said
        for name, said in facts.items()
    }


@pytest.fixture
def laid(order, twelve_shirts, shop, shelf, ada):
    order.cloth = {"sashing": "Forest", "binding": "Forest", "cornerstone": "Gold"}
    order.save()
    return draw(order, shop, ada)


def test_before_it_is_measured_the_sheet_says_so(laid):
    facts = quilter_facts(laid)
    assert (facts["size"], facts["is_measured"]) == ("50 × 66 in", False)
    assert facts["backing_size"] == "58 × 74 in"


def test_once_measured_size_back_and_batting_are_those_of_the_sewn_top(laid, ada):
    """Worked by hand: 49 1/2 x 65 1/2 raw is 49 x 65 finished, 57 x 73 with four inches on each side."""
    top_size.measure(laid, Measured(49 * INCH + INCH // 2, 65 * INCH + INCH // 2), by=ada)
    facts = quilter_facts(laid)
    assert facts["is_measured"]
    assert [facts[name] for name in ("size", "raw", "backing_size", "batting_size")] == [
        "49 × 65 in",
        "49½ × 65½ in",
        "57 × 73 in",
        "57 × 73 in",
    ]


def test_a_quilt_that_is_tied_at_home_needs_less_beyond_its_top(laid):
    laid.wish["quilted"] = "tied"
    facts = quilter_facts(laid)
    assert (facts["overhang"], facts["backing_size"]) == ("2 in", "54 × 70 in")


def test_blocks_that_melt_or_are_hard_are_on_the_map_and_in_the_list(laid):
    shirts = {item.shirt.number: item.shirt for item in _pieces(laid)}
    first, second = list(shirts.values())[:2]
    first.pieces.update(print_kind="vinyl")
    second.flags = ["zip"]
    second.save()
    facts = quilter_facts(laid)
    marked = {name: (melts, hard) for name, melts, hard in facts["marked"]}
    assert any(melts == "270 °F" for melts, _ in marked.values())
    assert any("a zip" in hard for _, hard in marked.values())
    assert 'fill="url(#melts)"' in facts["map"]
    assert "TOP EDGE" in facts["map"]
    assert all(name in facts["map"] for name in marked)


def _pieces(order):
    return [block.piece for block in order.blocks.exclude(piece=None).select_related("piece__shirt")]


def test_the_sheet_names_no_customer(laid, ada):
    paper = papers.quilter_sheet(laid, by=ada)
    assert laid.customer.name not in str(paper.made_of)
    assert laid.customer.reach not in str(paper.made_of)


def test_a_weight_is_said_to_the_quarter_pound_or_the_tenth_of_a_kilogram():
    """1,900 g are 4.19 lb."""
    assert weight_in_words(1900, unit="in") == "about 4¼ lb"
    assert weight_in_words(1815, unit="in") == "about 4 lb"
    assert weight_in_words(1900, unit="cm") == "about 1.9 kg"


def test_cloths_are_weighed_as_what_they_are_most_like(twelve_shirts):
    assert {cloth_like(garment_of(shirt)) for shirt in twelve_shirts} <= {
        "jersey", "performance", "sweatshirt", "fleece", "cotton", "denim",
    }  # fmt: skip
    assert batting_like("Wool, queen") == "wool batting"
    assert batting_like("Batting 80/20") == "80/20 batting"
