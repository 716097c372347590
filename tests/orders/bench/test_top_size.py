"""The top as it was sewn takes the place of the reckoned one: borders, binding, the size that is told."""

from dataclasses import replace

import pytest

from orders.bench import top_size
from orders.bench.top_size import Measured
from orders.cloth.cutting import cutting_list
from orders.models import Event
from orders.planning import shelf as shelf_of
from orders.quilt.answers import answer
from planner.materials import Allowances, parts
from planner.quilt import Border, Cell, Quilt
from planner.units import INCH, Rect, Sides, Size
from tests.orders.workbench import draw

pytestmark = pytest.mark.django_db
SEWN = Measured(across=47 * INCH + INCH // 2, down=63 * INCH)


@pytest.fixture
def laid(order, twelve_shirts, shop, shelf, ada):
    order.cloth = {"sashing": "Forest", "binding": "Forest", "cornerstone": "Gold"}
    order.save()
    return draw(order, shop, ada)


def bordered(width=3 * INCH):
    field = Cell("1", Rect(width, width, 48 * INCH, 64 * INCH))
    size = Size(48 * INCH + 2 * width, 64 * INCH + 2 * width)
    return Quilt(size, (field,), borders=(Border(Sides(width, width, width, width)),))


def test_butted_borders_are_cut_to_the_top_as_it_was_sewn(laid):
    """Common practice: sides as long as the top through its middle, top and bottom over the wider top.

    Measured raw edge to raw edge, so a side strip is cut just as long as the top is.
    """
    laid.top = vars(SEWN) | {"top": None, "right": None, "bottom": None, "left": None}
    cut = {
        item.name: item.length for item in top_size.parts_as_sewn(laid, bordered(), Allowances())["border"]
    }
    assert cut == {
        "border left": 63 * INCH,
        "border right": 63 * INCH,
        "border top": 47 * INCH + INCH // 2 + 6 * INCH,
        "border bottom": 47 * INCH + INCH // 2 + 6 * INCH,
    }


def test_the_finished_top_is_its_middle_less_its_seams_and_its_borders(laid):
    assert top_size.size_of(laid, bordered()) == Size(54 * INCH, 70 * INCH)
    laid.top = {"across": SEWN.across, "down": SEWN.down}
    assert top_size.size_of(laid, bordered()) == Size(53 * INCH, 68 * INCH + INCH // 2)


def measured_larger(order, by, more):
    """Write the top down as sewn larger than reckoned; return the cutting list's and the planner's quilt."""
    raw = order.design.quilt.field.size.grown(INCH // 2)
    top_size.measure(order, Measured(raw.width + more, raw.height + more), by=by)


def test_the_binding_on_the_cutting_list_follows_the_sewn_top(laid, shop, ada):
    quilt = laid.design.quilt
    before = cutting_list(quilt, shop, list(shelf_of(laid)), order=laid)
    measured_larger(laid, ada, 2 * INCH)
    after = cutting_list(quilt, shop, list(shelf_of(laid)), order=laid)
    ends = [
        sum(
            column.across
            for strip in next(each.plan for each in cuts if each.cloth == "Forest").strips
            for column in strip.columns
            if column.item == "binding"
        )
        for cuts in (before, after)
    ]
    assert ends[1] > ends[0]  # by eight inches, less or more a join
    binding = top_size.parts_as_sewn(laid, quilt, Allowances())["binding"][0]
    assert binding.length - parts(quilt, allowances=Allowances())["binding"][0].length == 8 * INCH


def test_backing_and_batting_set_aside_follow_the_sewn_top_and_the_price_does_not(laid, shop, ada):
    quilt = laid.design.quilt
    before = answer(laid, shop, drawn=quilt).options[0]
    measured_larger(laid, ada, -2 * INCH)
    after = answer(laid, shop, drawn=quilt).options[0]
    assert before.backing[0].length - after.backing[0].length == 2 * INCH
    assert before.batting[0].length - after.batting[0].length == 2 * INCH
    assert after.pricing.total == before.pricing.total


def test_sides_of_another_layout_are_not_those_of_this_one(laid, ada):
    quilt = laid.design.quilt
    top_size.measure(laid, Measured(40 * INCH, 40 * INCH), by=ada)
    assert top_size.size_of(laid, quilt) == quilt.size
    assert top_size.parts_as_sewn(laid, quilt, Allowances()) == {}
    faults = top_size.why_not(Measured(40 * INCH, 40 * INCH), quilt, unit="in")
    assert faults == {"across": "It was reckoned 50 1/2 in with its seams. Measure once more."}


def test_an_edge_off_the_middle_by_more_than_half_an_inch_is_named():
    assert replace(SEWN, left=SEWN.down + INCH // 2 + 1, top=SEWN.across).wavy == ("left",)
    assert replace(SEWN, left=SEWN.down + INCH // 2).wavy == ()


def test_measured_again_the_new_sides_stand_and_the_same_is_once(laid, ada):
    for _ in range(2):
        top_size.measure(laid, SEWN, by=ada)
    top_size.measure(laid, replace(SEWN, across=48 * INCH), by=ada)
    laid.refresh_from_db()
    assert top_size.measured(laid).across == 48 * INCH
    assert Event.objects.filter(what="top measured").count() == 2
