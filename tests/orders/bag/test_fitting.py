"""What does not fit its block is named with what would help, before any price."""

from __future__ import annotations

import pytest

from orders.bag.fitting import fitting_of
from orders.models import Order, Piece
from orders.quilt import altering, layouts
from planner.quilt import Cell, Quilt
from planner.units import INCH, Rect

pytestmark = pytest.mark.django_db


def test_before_a_layout_a_piece_is_named_that_fits_none_of_the_blocks_wished_for(order, twelve_shirts):
    order.wish = {"blocks": [[12 * INCH, 12 * INCH], [14 * INCH, 14 * INCH]]}
    Piece.objects.filter(shirt__number=4).update(print_width=13 * INCH, print_height=15 * INCH)
    fitting = fitting_of(order, unit="in")
    assert (fitting.count, fitting.is_drawn) == (12, False)
    (misfit,) = fitting.misfits
    assert (misfit.piece.id, misfit.shirt, misfit.mark) == ("04F", 4, "wait")
    assert misfit.block.width == 14 * INCH
    assert misfit.remedies[0].words == "Give it a block of 14 × 16 in."


def test_once_it_is_drawn_each_piece_is_held_against_its_own_block(drawn):
    block = drawn.design.quilt.cells[0].at.size
    assert fitting_of(drawn, unit="in").misfits == ()
    Piece.objects.filter(shirt__number=2).update(print_height=block.height + INCH)
    fitting = fitting_of(Order.objects.get(pk=drawn.pk), unit="in")
    assert fitting.is_drawn
    assert [each.piece.id for each in fitting.misfits] == ["02F"]
    assert fitting.misfits[0].block == block


def test_strips_round_a_block_are_what_helps_and_it_is_named_no_more(drawn, ada):
    Piece.objects.filter(shirt__number=2).update(free_left=INCH // 2, free_right=INCH // 2)
    (misfit,) = fitting_of(drawn, unit="in").misfits
    assert (misfit.piece.id, misfit.remedies[0].kind) == ("02F", "frame")
    strips = misfit.remedies[0].frame
    altering.add_strips(drawn, "02", strips, seen=layouts.move_number(drawn), by=ada)
    assert fitting_of(Order.objects.get(pk=drawn.pk), unit="in").misfits == ()


def test_a_block_that_lies_is_held_against_its_piece_as_it_is_worn(drawn, ada):
    lying = Cell("01", Rect(0, 0, 16 * INCH, 12 * INCH), "02F", turn=90)
    one = Quilt(lying.at.size, (lying,))
    layouts.choose(drawn, one, "one", minutes=(), seen=layouts.move_number(drawn), by=ada)
    Piece.objects.filter(shirt__number=2).update(print_width=10 * INCH, print_height=14 * INCH)
    assert fitting_of(Order.objects.get(pk=drawn.pk), unit="in").misfits == ()


def test_a_size_that_is_not_sure_enough_is_a_misfit(order, twelve_shirts):
    order.wish = {"blocks": [[14 * INCH, 14 * INCH]]}
    Piece.objects.filter(shirt__number=5).update(print_width=13 * INCH, plus_minus=0)
    assert fitting_of(order, unit="in").misfits == ()
    Piece.objects.filter(shirt__number=5).update(plus_minus=INCH // 4)
    (misfit,) = fitting_of(order, unit="in").misfits
    assert "± 1/4 in" in misfit.remedies[-1].words


def test_the_small_ones_are_told_who_would_share_their_block(order, twelve_shirts):
    order.wish = {"blocks": [[12 * INCH, 12 * INCH]]}
    small = {"print_width": 4 * INCH, "print_height": 4 * INCH, "free_top": INCH, "free_bottom": INCH}
    Piece.objects.filter(shirt__number__in=[3, 7]).update(**small, free_left=INCH, free_right=INCH)
    first, second = (each for each in fitting_of(order, unit="in").misfits if each.piece.id in ("03F", "07F"))
    assert first.remedies[1].others == ("07F",)
    assert second.remedies[1].others == ("03F",)


def test_what_is_left_out_is_not_looked_at(order, twelve_shirts):
    Piece.objects.filter(shirt__number=4).update(print_width=40 * INCH, wanted="out", why_out="torn")
    fitting = fitting_of(order, unit="in")
    assert (fitting.count, fitting.misfits) == (11, ())


def test_what_would_lose_print_or_has_no_cloth_comes_first(order, twelve_shirts):
    order.wish = {"blocks": [[14 * INCH, 14 * INCH]]}
    Piece.objects.filter(shirt__number=2).update(print_width=13 * INCH, print_height=15 * INCH)
    none = dict.fromkeys(("print_width", "print_height"), 0)
    sides = dict.fromkeys(("free_top", "free_right", "free_bottom", "free_left"), INCH // 8)
    Piece.objects.filter(shirt__number=9).update(**none, **sides)
    assert [(each.piece.id, each.mark) for each in fitting_of(order, unit="in").misfits] == [
        ("09F", "late"),
        ("02F", "wait"),
    ]


def test_a_pillow_that_was_given_two_shirts_of_a_bag_is_held_against_those_two_and_its_own_size(
    order, twelve_shirts
):
    pillow = Order.objects.create(
        number=2, title="A pillow of the rest", kind="pillow", customer=order.customer, approver="She",
        width=16 * INCH, height=16 * INCH,
    )  # fmt: skip
    pillow.bags.add(order.bags.get())
    Piece.objects.filter(shirt__number=2).update(print_width=15 * INCH, print_height=18 * INCH)
    Piece.objects.filter(shirt__number__in=(5, 6)).update(order=pillow, print_width=12 * INCH)
    fitting = fitting_of(pillow, unit="in")
    assert (fitting.count, fitting.misfits) == (2, ())
    assert [(block.width, block.height) for block in fitting.blocks] == [(16 * INCH, 16 * INCH)]
    Piece.objects.filter(shirt__number=6).update(print_height=17 * INCH)
    (misfit,) = fitting_of(pillow, unit="in").misfits
    assert misfit.piece.id == "06F"
