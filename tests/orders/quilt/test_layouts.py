"""The layout of an order, drawn and drawn again: nothing of it is lost, and nobody draws over another."""

from __future__ import annotations

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from orders.models import ApprovedPiece, Consent, NoYes, Order, Piece, Stale, cut
from orders.quilt import layouts
from orders.quilt.answers import answer
from orders.quilt.block_moves import CannotMove, emptied, traded, turned, with_kept_ids
from planner.layout import check_layout, grid_quilt
from planner.quilt import Cell, Quilt, Sashing
from planner.units import INCH, Rect, Size

pytestmark = pytest.mark.django_db


@pytest.fixture
def drawn(order, shop, twelve_shirts, ada):
    """Return the order with the first layout that was offered."""
    offer = answer(order, shop).options[0]
    layouts.choose(order, offer.layout.quilt, "3 by 4", minutes=offer.minutes, seen=0, by=ada)
    return order


def standing(order):
    quilt = Order.objects.get(pk=order.pk).design.quilt
    return quilt, {cell.id: cell for cell in quilt.cells}


def test_a_chosen_layout_keeps_a_row_for_each_block_and_claims_its_pieces(drawn):
    assert sorted(drawn.blocks.values_list("cell", flat=True)) == [f"{n:02d}" for n in range(1, 13)]
    assert set(Piece.objects.values_list("order", flat=True)) == {drawn.pk}
    assert drawn.events.filter(what="layout drawn").count() == 1


def test_blocks_that_trade_places_keep_their_names(drawn, ada):
    before = standing(drawn)[1]
    words = layouts.trade(drawn, "01", "12", seen=1, by=ada)
    after = standing(drawn)[1]
    assert words == "01F and 12F traded places"
    assert (after["01"].at, after["12"].at) == (before["12"].at, before["01"].at)
    assert (after["01"].piece, after["12"].piece) == ("01F", "12F")


def test_a_move_that_is_sent_twice_is_made_once(drawn, ada):
    for _ in range(2):
        layouts.trade(drawn, "01", "12", seen=1, by=ada)
    assert standing(drawn)[0] != drawn.design.moves.get(number=1)
    assert drawn.design.moves.count() == 2


def test_a_move_on_an_older_layout_is_refused(drawn, ada):
    layouts.trade(drawn, "01", "12", seen=1, by=ada)
    with pytest.raises(Stale):
        layouts.turn(drawn, "03", seen=1, by=ada)
    assert drawn.design.moves.count() == 2


def test_undo_gives_back_what_was_before(drawn, ada):
    before = standing(drawn)[0]
    layouts.turn(drawn, "03", seen=1, by=ada)
    for _ in range(2):
        layouts.undo(drawn, seen=2, by=ada)
    assert standing(drawn)[0] == before


def test_a_block_turned_round_keeps_its_size_and_twice_is_as_before(drawn):
    quilt = standing(drawn)[0]
    assert turned(quilt, "03").cells[2].turn == 180
    assert turned(turned(quilt, "03"), "03") == quilt


def test_a_piece_left_out_gives_its_reason_and_plain_cloth_takes_its_block(drawn, ada):
    layouts.leave_out(drawn, "04", why="a stain she does not want", seen=1, by=ada)
    piece = Piece.objects.get(shirt__number=4)
    plain = [cell for cell in standing(drawn)[0].cells if cell.is_filler]
    assert (piece.wanted, piece.why_out, piece.order) == ("out", "a stain she does not want", None)
    assert [cell.id for cell in plain] == ["13"]
    assert drawn.blocks.filter(cell="13", piece=None).exists()
    assert not drawn.blocks.filter(cell="04").exists()


def test_undoing_it_wants_the_piece_again_as_before(drawn, ada):
    layouts.leave_out(drawn, "04", why="a stain", seen=1, by=ada)
    layouts.undo(drawn, seen=2, by=ada)
    piece = Piece.objects.get(shirt__number=4)
    assert (piece.wanted, piece.why_out, piece.order) == ("must", "", drawn)


def test_what_is_cut_cannot_be_left_out(drawn, ada):
    drawn.blocks.filter(cell="04").update(progress="cut")
    with pytest.raises(CannotMove, match="04F is cut already"):
        layouts.leave_out(drawn, "04", why="too late", seen=1, by=ada)


def test_another_layout_keeps_the_names_of_blocks_that_hold_what_they_held(drawn):
    quilt = standing(drawn)[0]
    other = emptied(quilt, "02")
    shuffled = grid_quilt(3, 4, Size(14 * INCH, 14 * INCH), pieces=["12F", "03F", "77F"], sashing=None)
    kept = with_kept_ids(shuffled, other)
    assert [cell.id for cell in kept.cells][:2] == ["12", "03"]
    assert not {cell.id for cell in kept.cells[2:]} & {cell.id for cell in other.cells}


def test_blocks_of_unlike_size_trade_places_with_strips_or_say_why_not(drawn):
    pieces = {layouts.piece_id(piece): layouts.piece_of(piece) for piece in layouts.pieces_of(drawn)}
    after = {c.id: c for c in traded(uneven(12, 12), "01", "02", pieces=pieces, unit="in").cells}
    assert after["01"].at.size == Size(24 * INCH, 24 * INCH)
    assert after["01"].frame
    assert after["02"].at.size == Size(12 * INCH, 12 * INCH)
    with pytest.raises(CannotMove, match="02F does not fit there"):
        traded(uneven(6, 24), "01", "02", pieces=pieces, unit="in")


def uneven(width, height):
    """Return a quilt of a block so many inches wide and high, plain cloth under it, and one of 24 by 24."""
    cells = [
        Cell("01", Rect(0, 0, width * INCH, height * INCH), piece="01F"),
        Cell("02", Rect(width * INCH, 0, 24 * INCH, 24 * INCH), piece="02F"),
    ]
    if height < 24:
        cells.append(Cell("03", Rect(0, height * INCH, width * INCH, (24 - height) * INCH)))
    return Quilt(Size((width + 24) * INCH, 24 * INCH), tuple(cells))


def test_choosing_cloth_after_the_layout_is_a_move_that_undo_takes_back(drawn, ada, shelf):
    layouts.dress(drawn, {"sashing": "Forest"}, "Forest for the sashing", version=drawn.version, by=ada)
    assert standing(drawn)[0].cloth == {"sashing": "Forest"}
    layouts.undo(drawn, seen=2, by=ada)
    assert (standing(drawn)[0].cloth, Order.objects.get().cloth) == ({}, {})


def test_another_cloth_counts_no_block_and_no_piece_anew(drawn, ada, shelf):
    with CaptureQueriesContext(connection) as queries:
        layouts.dress(drawn, {"sashing": "Forest"}, "Forest for the sashing", version=drawn.version, by=ada)
    asked = " ".join(each["sql"] for each in queries)
    assert '"orders_block"' not in asked
    assert '"orders_piece"' not in asked
    assert [block.piece_id for block in drawn.blocks.all()].count(None) == 0


def test_a_yes_to_cut_covers_the_size_it_was_given_for(drawn, ada):
    piece = Piece.objects.get(shirt__number=1)
    Consent.objects.to_cut(drawn, [piece], said_by="her sister", how="person", by=ada)
    wider = grid_quilt(3, 4, Size(15 * INCH, 15 * INCH), pieces=["01F"], sashing=Sashing(INCH, False))
    layouts.choose(drawn, wider, "larger blocks", minutes=(), seen=1, by=ada)
    with pytest.raises(NoYes):
        cut([piece], by=ada)
    Consent.objects.to_cut(drawn, [piece], said_by="her sister", how="phone", by=ada)
    assert len(cut([piece], by=ada)) == 1
    assert ApprovedPiece.objects.filter(piece=piece, withdrawn_at=None).get().facts["cut"] == [
        15 * INCH + INCH // 2,
        15 * INCH + INCH // 2,
    ]


def test_every_layout_after_a_move_is_sound(drawn, ada, shop):
    layouts.trade(drawn, "01", "12", seen=1, by=ada)
    layouts.leave_out(drawn, "04", why="a stain", seen=2, by=ada)
    plan = answer(drawn, shop, drawn=standing(drawn)[0])
    assert check_layout(plan.options[0].layout, layouts.planning.bag_of(drawn)) == ()
