"""The top as it was sewn takes the place of the reckoned one: borders, binding, the size that is told."""

from dataclasses import replace

import pytest

from orders.bench import top_size
from orders.bench.top_size import Measured
from orders.cloth.cutting import cutting_list
from orders.models import Event
from orders.planning import shelf as shelf_of
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
    """Common practice: sides as long as the top through its middle, top and bottom over the wider top."""
    laid.top = vars(SEWN) | {"top": None, "right": None, "bottom": None, "left": None}
    cut = {
        item.name: item.length for item in top_size.parts_as_sewn(laid, bordered(), Allowances())["border"]
    }
    seams = INCH // 2
    assert cut == {
        "border left": 63 * INCH + seams,
        "border right": 63 * INCH + seams,
        "border top": 47 * INCH + INCH // 2 + 6 * INCH + seams,
        "border bottom": 47 * INCH + INCH // 2 + 6 * INCH + seams,
    }


def test_the_whole_top_is_its_middle_and_its_borders(laid):
    assert top_size.size_of(laid, bordered()) == Size(54 * INCH, 70 * INCH)
    laid.top = {"across": SEWN.across, "down": SEWN.down}
    assert top_size.size_of(laid, bordered()) == Size(53 * INCH + INCH // 2, 69 * INCH)


def test_the_binding_on_the_cutting_list_follows_the_sewn_top(laid, shop, ada):
    quilt = laid.design.quilt
    before = cutting_list(quilt, shop, list(shelf_of(laid)), order=laid)
    field = quilt.field.size
    top_size.measure(laid, Measured(field.width + 20 * INCH, field.height + 20 * INCH), by=ada)
    after = cutting_list(quilt, shop, list(shelf_of(laid)), order=laid)
    used = [next(each.used for each in cuts if each.cloth == "Forest") for cuts in (before, after)]
    assert used[1] > used[0]
    binding = top_size.parts_as_sewn(laid, quilt, Allowances())["binding"][0]
    reckoned = parts(quilt, allowances=Allowances())["binding"][0]
    assert binding.length - reckoned.length == 80 * INCH


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
