"""After Not right: cut again with its demand on the list, made up, laid out anew; a needle that broke."""

import pytest

from orders.bag import incidents
from orders.bench import needles, ways_on, work
from orders.bench.batches import waiting_for_the_iron
from orders.bench.bench import bench_of
from orders.models import ApprovedPiece, Block, Cut, Incident, Order, Piece, Reservation, Shirt
from orders.planning import bag_of
from planner.layout import Layout, LeftOut, check_layout
from planner.units import INCH
from tests.orders.workbench import draw, say_yes_to_all, say_yes_to_cut, two_in_one

pytestmark = pytest.mark.django_db
ROUGH = 2 * INCH


@pytest.fixture
def cut(order, twelve_shirts, shop, shelf, ada):
    order.cloth = {"sashing": "Forest", "binding": "Forest", "cornerstone": "Gold"}
    order.save()
    draw(order, shop, ada)
    say_yes_to_cut(order, ada)
    work.do_pile(order, "cut", order.blocks.values_list("pk", flat=True), by=ada)
    return order


@pytest.fixture
def melted(cut, ada):
    blocks = tuple(cut.blocks.select_related("piece__shirt").order_by("cell")[:3])
    return incidents.report(cut, incidents.Report("melted", "fuse", blocks[0], blocks), by=ada)


def test_cut_again_wants_a_new_yes_and_the_old_cut_stays_written(melted, cut, ada):
    incidents.settle(melted, "recut", by=ada)
    block = Block.objects.get(order=cut, cell=melted.cell)
    assert (block.progress, block.held) == ("planned", "")
    with pytest.raises(work.NotYet, match="has no yes to cut"):
        work.do_pile(cut, "cut", [block.pk], by=ada)
    assert Cut.objects.filter(approved__piece=melted.piece).count() == 1
    say_yes_to_cut(cut, ada)
    assert work.do_pile(cut, "cut", [block.pk], by=ada).facts["count"] == 1
    assert Cut.objects.filter(approved__piece=melted.piece).count() == 2
    assert ApprovedPiece.objects.filter(piece=melted.piece, withdrawn_at=None).count() == 1


def test_cut_again_puts_its_interfacing_back_on_the_list(melted, cut, ada, shop):
    """A block trimmed to its cut size and 2 in over lies along a 20-in roll: its height of the roll."""
    item = next(each for each in bench_of(cut, rough=ROUGH).items if each.block.cell == melted.cell)
    before = sum(
        Reservation.objects.filter(order=cut, role=Reservation.AGAIN).values_list("length", flat=True)
    )
    incidents.settle(melted, "recut", by=ada)
    after = sum(
        Reservation.objects.filter(order=cut, role=Reservation.AGAIN).values_list("length", flat=True)
    )
    assert after - before == item.cuttings[0].sizes.cut.height + 2 * INCH


def test_cut_again_opens_the_stages_for_one_block_and_keeps_the_shirt_damaged(melted, cut, ada):
    stage = cut.stages.get(kind="cut")
    assert stage.done_at is not None
    incidents.settle(melted, "recut", by=ada)
    stage.refresh_from_db()
    assert stage.done_at is None
    assert 0 < stage.left <= -(-stage.minutes // 12) + 1
    assert Shirt.objects.get(pk=melted.shirt_id).damaged


@pytest.mark.parametrize("way", ["makeup", "layout"])
def test_made_up_and_laid_out_anew_leave_plain_cloth_in_a_layout_that_holds(melted, cut, ada, way):
    incidents.settle(melted, way, by=ada)
    cut.design.refresh_from_db()
    quilt = cut.design.quilt
    assert melted.piece.name not in {cell.piece for cell in quilt.with_pieces()}
    assert sum(cell.is_filler for cell in quilt.cells) == 1
    left_out = (LeftOut(melted.piece.name, "melted"),)
    assert check_layout(Layout(quilt, left_out), bag_of(cut)) == ()
    assert Piece.objects.get(pk=melted.piece_id).why_out == "melted, kept with its shirt"
    assert not cut.blocks.filter(cell=melted.cell).exists()


@pytest.fixture
def spoiled_one_of_two(order, twelve_shirts, shop, shelf, ada):
    """Two prints share block 1; one of them melted at the iron, nobody said which."""
    shared = two_in_one(draw(order, shop, ada), ada)
    say_yes_to_all(order, ada)
    work.do_pile(order, "cut", [shared.pk], by=ada)
    shared.refresh_from_db()
    return incidents.report(order, incidents.Report("melted", "fuse", shared, (shared,)), by=ada)


def test_of_a_block_of_two_it_is_asked_which_piece_it_was(spoiled_one_of_two, order, ada):
    left, right = ways_on.pieces_meant(spoiled_one_of_two)
    with pytest.raises(ways_on.CannotSettle, match="Say which one it was"):
        incidents.settle(spoiled_one_of_two, "makeup", by=ada)
    incidents.settle(spoiled_one_of_two, "makeup", by=ada, piece=left)
    quilt = Order.objects.get(pk=order.pk).design.quilt
    parts = next(cell for cell in quilt.cells if cell.inside).inside
    assert [part.piece for part in parts] == [None, right.name]
    block = order.blocks.get(cell=spoiled_one_of_two.cell)
    assert (block.progress, block.held) == ("cut", "")
    assert Shirt.objects.filter(damaged=True).get() == left.shirt
    assert ApprovedPiece.objects.filter(withdrawn_at=None, piece=right).count() == 1


def test_of_a_block_of_two_one_is_cut_again_and_the_other_not(spoiled_one_of_two, order, ada):
    left, right = ways_on.pieces_meant(spoiled_one_of_two)
    incidents.settle(spoiled_one_of_two, "recut", by=ada, piece=right)
    block = order.blocks.get(cell=spoiled_one_of_two.cell)
    assert block.progress == "planned"
    say_yes_to_all(order, ada)
    work.do_pile(order, "cut", [block.pk], by=ada)
    cuts = [Cut.objects.filter(approved__piece=piece).count() for piece in (left, right)]
    assert cuts == [1, 2]


def test_the_rest_of_the_batch_goes_on_with_the_settlement(melted, cut, ada):
    incidents.settle(melted, "recut", by=ada)
    assert not cut.blocks.exclude(held="").exists()


def test_without_a_block_nothing_can_be_cut_again(cut, ada):
    made = incidents.report(cut, incidents.Report("stained", "fuse"), by=ada)
    assert not set(incidents.ways_for(made)) & set(ways_on.WAYS)
    with pytest.raises(ways_on.CannotSettle, match="not known which block"):
        incidents.settle(made, "recut", by=ada)
    assert Incident.objects.get(pk=made.pk).settled_at is None


def test_what_is_sewn_in_is_taken_out_first(melted, cut, ada):
    cut.blocks.filter(cell=melted.cell).update(progress="joined")
    with pytest.raises(ways_on.CannotSettle, match="sewn in"):
        incidents.settle(melted, "recut", by=ada)


def test_a_needle_that_broke_is_settled_when_all_of_it_is_found(cut, ada):
    made = incidents.report(cut, incidents.Report("needle", "join"), by=ada)
    with pytest.raises(ways_on.CannotSettle, match="every piece of the needle"):
        incidents.settle(made, "mended", by=ada)
    assert "A needle broke" in needles.why_not_finished(cut)
    incidents.say_found(made, True, by=ada)
    incidents.settle(made, "mended", by=ada)
    assert "A needle broke" not in needles.why_not_finished(cut)


@pytest.mark.parametrize(("stage", "waits"), [("trim", 1), ("fuse", 2)])
def test_at_the_iron_the_piece_that_was_cut_again_lies_alone_once_the_other_is_fused(
    order, twelve_shirts, shop, shelf, ada, stage, waits
):
    shared = two_in_one(draw(order, shop, ada), ada)
    say_yes_to_all(order, ada)
    work.do_pile(order, "cut", [shared.pk], by=ada)
    if stage == "trim":
        work.do_pile(order, "fuse", [shared.pk], by=ada)
    shared.refresh_from_db()
    spoiled = incidents.report(order, incidents.Report("cut wrong", stage, shared), by=ada)
    piece = ways_on.pieces_meant(spoiled)[1]
    incidents.settle(spoiled, "recut", by=ada, piece=piece)
    say_yes_to_all(order, ada)
    work.do_pile(order, "cut", [shared.pk], by=ada)
    fresh = Order.objects.get(pk=order.pk)
    item = next(each for each in bench_of(fresh, rough=ROUGH).items if each.block.pk == shared.pk)
    of_all = [each for batch in waiting_for_the_iron(rough=ROUGH) for each in batch.batch.items]
    for found in (item, next(each for each in of_all if each.block.pk == shared.pk)):
        assert len(found.cuttings) == waits
        assert piece in [each.piece for each in found.cuttings]
