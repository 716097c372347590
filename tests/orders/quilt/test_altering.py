"""A layout altered block by block: each change is one move, taken back and done again without end."""

from __future__ import annotations

import pytest

from orders.models import Consent, Design, Order, Piece, Stale, cut
from orders.quilt import altering, layouts, wants
from orders.quilt.answers import answer
from orders.quilt.block_moves import CannotMove
from planner.layout import check_layout
from planner.units import INCH, Sides
from tests.cast import add_shirt

pytestmark = pytest.mark.django_db


@pytest.fixture
def drawn(order, shop, twelve_shirts, ada):
    """Return the order with the first layout that was offered; shirt 02 has a back, too."""
    back = Piece.objects.get(shirt__number=2)
    back.pk, back.side, back.wanted = None, "back", "may"
    back.save(force_insert=True)
    offer = answer(order, shop).options[0]
    layouts.choose(order, offer.layout.quilt, "3 by 4", minutes=offer.minutes, seen=0, by=ada)
    return order


def quilt_of(order):
    return Order.objects.get(pk=order.pk).design.quilt


def cells(order):
    return {cell.id: cell for cell in quilt_of(order).cells}


def seen(order):
    return layouts.move_number(order)


def piece_named(name):
    return Piece.objects.get(shirt__number=int(name[:2]), side={"F": "front", "B": "back"}[name[2]])


def words_of(order):
    return Order.objects.get(pk=order.pk).design.last_move.words


def test_strips_are_a_move_that_undo_takes_back(drawn, ada):
    before = quilt_of(drawn)
    assert (
        altering.add_strips(drawn, "02", Sides.all_round(INCH), seen=1, by=ada) == "Strips of 1 in round 02F"
    )
    assert cells(drawn)["02"].frame == Sides.all_round(INCH)
    altering.add_strips(drawn, "02", Sides(), seen=2, by=ada)
    assert words_of(drawn) == "Strips of 02F taken off"
    for number in (3, 2):
        layouts.undo(drawn, seen=number, by=ada)
    assert quilt_of(drawn) == before


def test_strips_as_the_cloth_needs_are_reckoned_and_sent_twice_are_one_move(drawn, ada):
    Piece.objects.filter(shirt__number=2, side="front").update(free_left=INCH // 2, free_right=INCH // 2)
    for _ in range(2):
        altering.add_strips(drawn, "02", None, seen=1, by=ada)
    frame = cells(drawn)["02"].frame
    assert frame.left + frame.right == 2 * INCH + INCH // 2
    assert drawn.design.moves.count() == 2


def test_the_other_side_takes_the_block_and_the_one_that_was_there_says_for_which(drawn, ada):
    layouts.pin(drawn, "02", seen=1, by=ada)
    words = altering.show_instead(drawn, "02", piece_named("02B"), seen=2, by=ada)
    front, back = piece_named("02F"), piece_named("02B")
    assert words == "02B shown instead of 02F"
    assert (front.wanted, front.why_out, front.order) == ("out", "02B is shown instead.", None)
    assert (back.wanted, back.order) == ("may", drawn)
    pins = Design.objects.get(order=drawn).last_move.pins
    assert [cells(drawn)[id].piece for id in pins] == ["02B"]
    layouts.undo(drawn, seen=3, by=ada)
    assert (piece_named("02F").wanted, piece_named("02F").order) == ("must", drawn)
    assert piece_named("02B").order is None


def test_a_side_that_was_left_out_is_wanted_again_and_undo_leaves_it_out_as_before(drawn, ada):
    Piece.objects.filter(side="back").update(wanted="out", why_out="faded")
    altering.show_instead(drawn, "02", piece_named("02B"), seen=1, by=ada)
    assert (piece_named("02B").wanted, piece_named("02B").why_out) == ("may", "")
    layouts.undo(drawn, seen=2, by=ada)
    assert (piece_named("02B").wanted, piece_named("02B").why_out) == ("out", "faded")


def test_the_layout_is_sound_after_each_of_them(drawn, ada, shop):
    altering.add_strips(drawn, "03", Sides.all_round(INCH), seen=1, by=ada)
    altering.show_instead(drawn, "02", piece_named("02B"), seen=2, by=ada)
    layouts.leave_out(drawn, "04", why="a stain", seen=3, by=ada)
    altering.add_border(drawn, across=3 * INCH, down=3 * INCH, seen=4, by=ada)
    layouts.trade(drawn, "01", "12", seen=5, by=ada)
    plan = answer(drawn, shop, drawn=quilt_of(drawn))
    assert check_layout(plan.options[0].layout, layouts.planning.bag_of(drawn)) == ()


def test_what_was_left_out_comes_back_to_its_plain_block_as_a_move(drawn, ada):
    layouts.leave_out(drawn, "04", why="a stain", seen=1, by=ada)
    assert altering.bring_back(drawn, piece_named("04F"), seen=2, by=ada) == "04F brought back"
    assert [cell.is_filler for cell in quilt_of(drawn).cells].count(True) == 0
    assert piece_named("04F").wanted == "must"
    layouts.undo(drawn, seen=3, by=ada)
    assert (piece_named("04F").wanted, piece_named("04F").why_out) == ("out", "a stain")


def test_without_a_plain_block_it_is_only_wanted_again(drawn, ada):
    Piece.objects.filter(side="back").update(wanted="out", why_out="faded")
    assert altering.bring_back(drawn, piece_named("02B"), seen=1, by=ada) == ""
    assert piece_named("02B").wanted == "may"
    assert drawn.design.moves.count() == 1


def test_a_border_is_told_in_the_shops_unit_and_changes_the_size(drawn, ada, shop):
    altering.add_border(drawn, across=3 * INCH, down=3 * INCH, seen=1, by=ada)
    assert words_of(drawn) == "A border of 3 in all round"
    assert quilt_of(drawn).size.width == 56 * INCH
    altering.add_border(drawn, across=0, down=8 * INCH, seen=2, by=ada)
    assert words_of(drawn) == "A border of 8 in at top and bottom"
    altering.add_border(drawn, across=0, down=0, seen=3, by=ada)
    assert words_of(drawn) == "Border taken off"
    assert quilt_of(drawn).size.width == 50 * INCH


def test_undo_goes_back_to_the_first_layout_and_do_it_again_to_the_last(drawn, ada):
    stands = {1: quilt_of(drawn)}
    layouts.trade(drawn, "01", "12", seen=1, by=ada)
    stands[2] = quilt_of(drawn)
    layouts.leave_out(drawn, "04", why="a stain", seen=2, by=ada)
    stands[3] = quilt_of(drawn)
    altering.add_border(drawn, across=INCH, down=INCH, seen=3, by=ada)
    stands[4] = quilt_of(drawn)
    for number in (4, 3, 2):
        layouts.undo(drawn, seen=number, by=ada)
        assert quilt_of(drawn) == stands[number - 1]
    layouts.undo(drawn, seen=1, by=ada)
    assert (seen(drawn), piece_named("04F").wanted) == (1, "must")
    for number in (2, 3, 4):
        layouts.redo(drawn, number, seen=number - 1, by=ada)
        assert quilt_of(drawn) == stands[number]
    assert (piece_named("04F").wanted, piece_named("04F").why_out) == ("out", "a stain")
    assert Design.objects.get(order=drawn).next_move is None


def test_doing_it_again_twice_is_once_and_an_older_page_is_refused(drawn, ada):
    layouts.turn(drawn, "03", seen=1, by=ada)
    layouts.turn(drawn, "05", seen=2, by=ada)
    layouts.undo(drawn, seen=3, by=ada)
    layouts.undo(drawn, seen=2, by=ada)
    for _ in range(2):
        layouts.redo(drawn, 2, seen=1, by=ada)
    assert seen(drawn) == 2
    with pytest.raises(Stale):
        layouts.redo(drawn, 3, seen=1, by=ada)


def test_a_new_move_after_undo_forgets_what_was_taken_back(drawn, ada):
    layouts.turn(drawn, "03", seen=1, by=ada)
    layouts.undo(drawn, seen=2, by=ada)
    layouts.turn(drawn, "05", seen=1, by=ada)
    assert Design.objects.get(order=drawn).next_move is None
    assert [cell.turn for id, cell in sorted(cells(drawn).items()) if id in ("03", "05")] == [0, 180]


def test_a_page_from_before_an_undo_and_another_move_is_refused(drawn, ada):
    layouts.turn(drawn, "03", seen=1, by=ada)
    layouts.undo(drawn, seen=2, by=ada)
    layouts.turn(drawn, "05", seen=1, by=ada)
    with pytest.raises(Stale):
        layouts.trade(drawn, "01", "12", seen=2, by=ada)


def test_what_is_cut_keeps_its_size_through_undo_and_is_not_exchanged(drawn, ada):
    altering.add_strips(drawn, "02", Sides.all_round(INCH), seen=1, by=ada)
    front = piece_named("02F")
    Consent.objects.to_cut(drawn, [front], said_by="the aunt", how="person", by=ada)
    cut([front], by=ada)
    assert piece_named("02F").cut_width == 12 * INCH + INCH // 2
    with pytest.raises(CannotMove, match="02F was cut since then"):
        layouts.undo(drawn, seen=2, by=ada)
    assert seen(drawn) == 2
    with pytest.raises(CannotMove, match="02F is cut already, so it stays in the quilt"):
        altering.show_instead(drawn, "02", piece_named("02B"), seen=2, by=ada)
    with pytest.raises(CannotMove, match="02F is cut already, so its strips stay"):
        altering.add_strips(drawn, "02", Sides(), seen=2, by=ada)


def test_a_piece_that_another_quilt_took_meanwhile_is_not_taken_back(drawn, ada, aunt):
    layouts.leave_out(drawn, "04", why="a stain", seen=1, by=ada)
    other = Order.objects.open(title="A pillow", customer=aunt, by=ada)
    other.bags.add(drawn.bags.get())
    Piece.objects.filter(shirt__number=4).update(order=other)
    with pytest.raises(CannotMove, match="04F went into No"):
        layouts.undo(drawn, seen=2, by=ada)
    assert seen(drawn) == 2
    assert piece_named("04F").wanted == "out"


def test_how_a_piece_was_wanted_is_remembered_over_several_leavings_out(drawn, ada):
    piece = piece_named("02B")
    for why in ("faded", "too thin"):
        said = wants.to_leave_out(drawn, "02B", why)
        wants.say(drawn, said, by=ada)
        piece.refresh_from_db()
        assert (piece.wanted, piece.why_out) == ("out", why)
        wants.bring_back(drawn, piece, by=ada)
        assert piece.wanted == "may"


def test_a_shirt_logged_later_is_put_on_plain_cloth(drawn, ada):
    layouts.leave_out(drawn, "04", why="a stain", seen=1, by=ada)
    late = add_shirt(drawn.bags.get(), 13).pieces.get()
    plain = next(cell for cell in quilt_of(drawn).cells if cell.is_filler)
    assert altering.show_instead(drawn, plain.id, late, seen=2, by=ada) == "13F put on plain cloth"
    assert piece_named("13F").order == drawn
