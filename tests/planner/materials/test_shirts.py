"""What is cut from each shirt."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from planner.care import needs
from planner.layout.blocks import grid_quilt
from planner.materials import shirt_cuts
from planner.problems import BadInput
from planner.quilt import Bag, Cell, Garment, Piece, Quilt
from planner.units import INCH, Rect, Sides

from .samples import inch, sash, size


def tee(number: str, **rest) -> Garment:
    return Garment(number, "tee", {"cotton": Decimal(100)}, **rest)


def front(number: str, **rest) -> Piece:
    return Piece(f"{number}F", number, "front", size(10, 12), Sides.all_round(3 * INCH), "plastisol", **rest)


def one_block(piece: str, **rest) -> Quilt:
    return Quilt(size(14, 14), (Cell("01", Rect(0, 0, 14 * INCH, 14 * INCH), piece=piece, **rest),))


def only_cut(quilt, *, garment=None, piece=None):
    bag = Bag((garment or tee("01"),), (piece or front("01"),))
    (cut,) = shirt_cuts(quilt, bag, rough=2 * INCH)
    return cut


def test_a_14_in_block_is_cut_at_16_and_trimmed_to_14_1_2():
    # trade handbook 3.2, P6: 14 1/2 trim from 16
    cut = only_cut(one_block("01F"))
    assert (cut.rough, cut.cut) == (size(16, 16), size("14 1/2", "14 1/2"))


def test_frame_strips_make_the_cut_smaller():
    # trade handbook, scenario 1: 11 is trimmed to 12 1/2 square with 1 in all round,
    # 07 to 12 1/2 high with 1 in top and bottom
    assert only_cut(one_block("01F", frame=Sides.all_round(INCH))).cut == size("12 1/2", "12 1/2")
    cut = only_cut(one_block("01F", frame=Sides(INCH, 0, INCH, 0)))
    assert (cut.cut, cut.rough) == (size("14 1/2", "12 1/2"), size(16, 14))
    assert cut.frame == Sides(INCH, 0, INCH, 0)


def test_a_piece_already_cut_keeps_its_size():
    piece = front("01", cut=size(13, "13 1/2"))
    cut = only_cut(one_block("01F"), piece=piece)
    assert (cut.rough, cut.cut) == (size(13, "13 1/2"),) * 2


def test_a_block_turned_on_its_side_is_cut_as_the_shirt_lies():
    quilt = Quilt(size(16, 14), (Cell("01", Rect(0, 0, 16 * INCH, 14 * INCH), piece="01F", turn=90),))
    assert only_cut(quilt).cut == size("14 1/2", "16 1/2")


def test_cuts_come_in_the_order_of_the_cells_composites_opened_up():
    composite = Cell(
        "02",
        Rect(14 * INCH, 0, 14 * INCH, 14 * INCH),
        inside=(
            Cell("02a", Rect(14 * INCH, 0, 7 * INCH, 14 * INCH), piece="03F"),
            Cell("02b", Rect(21 * INCH, 0, 7 * INCH, 14 * INCH), piece="02F"),
        ),
    )
    plain = Cell("03", Rect(28 * INCH, 0, 14 * INCH, 14 * INCH))
    quilt = Quilt(size(42, 14), (Cell("01", Rect(0, 0, 14 * INCH, 14 * INCH), piece="01F"), composite, plain))
    numbers = ("03", "01", "02")
    bag = Bag(tuple(map(tee, numbers)), tuple(map(front, numbers)))
    cuts = shirt_cuts(quilt, bag, rough=2 * INCH)
    assert [(cut.cell, cut.piece) for cut in cuts] == [("01", "01F"), ("02a", "03F"), ("02b", "02F")]
    assert cuts[1].cut == size("7 1/2", "14 1/2")


def test_each_cut_names_the_interfacing_that_the_garment_needs():
    for garment in (tee("01"), tee("01", stretch="very high", thickness="thin"), tee("01", knit=False)):
        cut = only_cut(one_block("01F"), garment=garment)
        wanted = needs(garment, front("01"))
        assert (cut.interfacing, cut.layers) == (wanted.interfacing, wanted.layers)
    assert only_cut(one_block("01F")).interfacing == "light non-woven"


def test_a_block_whose_piece_is_not_in_the_bag_is_refused():
    with pytest.raises(BadInput, match="not in the bag"):
        shirt_cuts(one_block("09F"), Bag((tee("01"),), (front("01"),)), rough=2 * INCH)


def test_a_rough_cut_smaller_than_the_block_is_refused():
    with pytest.raises(BadInput) as caught:
        shirt_cuts(one_block("01F"), Bag((tee("01"),), (front("01"),)), rough=inch("1/4"))
    assert caught.value.field == "rough"


def test_wider_seams_make_larger_cuts():
    quilt = replace(grid_quilt(1, 1, size(14, 14), pieces=["01F"], sashing=sash(2)), seam=INCH // 2)
    assert only_cut(quilt).cut == size(15, 15)
