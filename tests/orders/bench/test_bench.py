"""The bench of an order: piles, composites, rows, and the cutting list of its cloth."""

import pytest

from orders import planning
from orders.bench import work
from orders.bench.bench import bench_of
from orders.cloth.cutting import cutting_list, lines_of, without_cloth
from orders.models import Cloth, Cut, Order
from orders.quilt.blocks import pieces_by_cell
from planner.materials import Column, Strip
from planner.units import INCH
from tests.orders.workbench import draw, say_yes_to_cut, two_in_one

pytestmark = pytest.mark.django_db
ROUGH = 2 * INCH


@pytest.fixture
def laid(order, twelve_shirts, shop, shelf, ada):
    order.cloth = {"sashing": "Forest", "binding": "Forest", "cornerstone": "Gold"}
    order.save()
    return draw(order, shop, ada)


@pytest.fixture
def composite(laid, ada):
    """Return the order with two prints side by side in block 1, and a filler in block 2."""
    two_in_one(laid, ada)
    pieces = [piece for held in pieces_by_cell(fresh(laid)).values() for piece in held]
    say_yes_to_cut(laid, ada)
    from orders.models import Consent

    Consent.objects.to_cut(laid, pieces, said_by="the aunt", how="person", by=ada)
    return fresh(laid)


def fresh(order):
    return Order.objects.get(pk=order.pk)


def block(order, index):
    return order.blocks.get(cell=order.design.quilt.cells[index].id)


def test_a_composite_holds_its_pieces_and_a_filler_none(composite):
    held = list(pieces_by_cell(composite).values())
    assert [len(pieces) for pieces in held] == [2, 0] + [1] * 10


def test_a_composite_is_cut_when_each_of_its_pieces_may_be(composite, ada):
    work.do_pile(composite, "cut", [block(composite, 0).pk], by=ada)
    assert Cut.objects.count() == 2
    assert block(composite, 0).progress == "cut"
    assert block(composite, 1).progress == "planned"


def test_a_composite_with_one_yes_taken_back_is_not_cut(composite, ada):
    piece = pieces_by_cell(composite)[composite.design.quilt.cells[0].id][1]
    piece.approvals.get(withdrawn_at=None).consent.withdraw(by=ada)
    with pytest.raises(work.NotYet, match="has no yes to cut"):
        work.do_pile(composite, "cut", [block(composite, 0).pk], by=ada)
    assert not Cut.objects.exists()


def test_a_filler_is_made_up_not_cut(composite, ada):
    work.finish(composite.stages.get(kind="cut"), by=ada)
    work.finish(composite.stages.get(kind="make up"), by=ada)
    assert block(composite, 1).progress == "trimmed"


def test_each_cut_is_what_the_planner_says(composite):
    bench = bench_of(composite, rough=ROUGH)
    first = bench.items[0]
    assert [each.name for each in first.cuttings] == ["1-01F", "1-02F"]
    assert first.name.startswith("1 block")
    drawn = composite.design.quilt
    inner = drawn.cells[0].inside[0].at
    assert first.cuttings[0].sizes.rough.width == inner.width + ROUGH
    assert first.cuttings[0].sizes.cut.width == inner.width + 2 * drawn.seam


def test_batches_are_coolest_first_and_hold_every_block_once(composite, ada):
    composite.bags.get().shirts.filter(number=2).get().pieces.update(print_kind="vinyl")
    work.finish(composite.stages.get(kind="cut"), by=ada)
    batches = bench_of(fresh(composite), rough=ROUGH).batches()
    assert [batch.heat for batch in batches] == sorted(batch.heat for batch in batches)
    held = [item.block.pk for batch in batches for item in batch.items]
    assert len(held) == len(set(held)) == 11
    # a composite lies with what its coolest piece bears, and says what the other one needs
    assert batches[0].heat == 270
    assert [item.block for item in batches[0].mixed] == [block(composite, 0)]
    assert [each.care.heat for each in batches[0].items[0].cuttings] == [300, 270]


def test_rows_hold_every_block_once_in_order(composite):
    rows = bench_of(composite, rough=ROUGH).rows()
    cells = [item.block.cell for row in rows for item in row.items]
    assert sorted(cells) == sorted(cell.id for cell in composite.design.quilt.cells)
    tops = [min(_at(composite, item).y for item in row.items) for row in rows]
    lefts = [min(_at(composite, item).x for item in row.items) for row in rows]
    assert tops == sorted(tops) or lefts == sorted(lefts)


def _at(order, item):
    return next(cell.at for cell in order.design.quilt.cells if cell.id == item.block.cell)


def test_a_shirt_that_left_the_bag_leaves_the_bench_standing(laid):
    shirt = laid.bags.get().shirts.get(number=3)
    shirt.state = "returned"
    shirt.save()
    assert len(bench_of(fresh(laid), rough=ROUGH).items) == 12


def test_strips_cut_alike_stand_on_one_line():
    column = Column("sashing", 14 * INCH, 2 * INCH, 1)
    strips = [Strip(0, number * 2 * INCH, 2 * INCH, (column, column)) for number in range(15)]
    strips.append(Strip(None, 0, 2 * INCH, (column,)))
    assert [(line.count, line.is_new, line.cuts) for line in lines_of(strips)] == [
        (15, False, ((2, "sashing", 14 * INCH),)),
        (1, True, ((1, "sashing", 14 * INCH),)),
    ]


def test_the_cutting_list_cuts_every_piece_of_the_sashing(laid, shop):
    quilt = laid.design.quilt
    lists = {each.cloth: each for each in cutting_list(quilt, shop, planning.shelf(laid), order=laid)}
    assert lists.keys() == {"Forest", "Gold"}
    corners = sum(line.count * many for line in lists["Gold"].lines for many, _, _ in line.cuts)
    columns = len({cell.at.x for cell in quilt.cells})
    rows = len({cell.at.y for cell in quilt.cells})
    assert corners == (columns + 1) * (rows + 1)
    assert "sashing" in lists["Forest"].roles
    assert "backing" not in without_cloth(quilt, shop)


def test_a_cloth_that_left_the_shelf_is_named(laid, shop):
    gone = [cloth for cloth in planning.shelf(laid) if cloth.name != "Gold"]
    lists = {each.cloth: each for each in cutting_list(laid.design.quilt, shop, gone, order=laid)}
    assert "not on the shelf" in lists["Gold"].why_none


def test_a_cloth_narrower_than_a_piece_says_what_would_help(laid, shop):
    Cloth.objects.filter(name="Gold").update(usable=2 * INCH)
    found = cutting_list(laid.design.quilt, shop, list(planning.shelf(laid)), order=laid)
    words = next(each.why_none for each in found if each.cloth == "Gold")
    assert "is wider than the usable width of Gold" in words
    assert "Take a wider cloth" in words
