"""How much of each thing a quilt holds."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from planner.layout.blocks import grid_quilt
from planner.problems import BadInput
from planner.quilt import PER, Bag, Border, Cell, Garment, Piece, Quilt, Sashing, amount_of
from planner.units import INCH, Rect, Sides, Size

BLOCK = Size(14 * INCH, 14 * INCH)


def garment(id, kind="tee", *flags) -> Garment:
    """A cotton garment."""
    return Garment(id, kind, {"cotton": Decimal(100)}, flags=frozenset(flags))


def piece(garment, side="front", width=10, height=12) -> Piece:
    """A print of whole inches with an inch of cloth all round."""
    return Piece(
        garment + side[0].upper(), garment, side, Size(width * INCH, height * INCH), Sides.all_round(INCH)
    )


BAG = Bag(
    (
        garment("01"),
        garment("02", "sweatshirt", "fleece"),
        garment("03", "jacket", "zip", "fleece"),
        garment("04"),
    ),
    (piece("01"), piece("01", "back"), piece("02", width=15), piece("03", height=18), piece("04")),
)


def cell(id, x, width=14, **rest) -> Cell:
    """A block of a single row, 14 in high."""
    return Cell(id, Rect(x * INCH, 0, width * INCH, 14 * INCH), **rest)


def row(*cells: Cell, **rest) -> Quilt:
    """A quilt of one row."""
    return Quilt(Size(max(each.at.right for each in cells), 14 * INCH), cells, **rest)


MIXED = row(
    cell("a", 0, piece="01F"),
    cell("b", 14, piece="01B", frame=Sides(left=INCH)),
    cell(
        "c",
        28,
        20,
        inside=(cell("d", 28, 10, piece="02F", frame=Sides(top=INCH)), cell("e", 38, 10, piece="03F")),
    ),
    cell("f", 48),
)


@pytest.mark.parametrize(
    ("per", "amount"),
    [
        ("quilt", 1),
        ("garment", 4),
        ("block", 3),
        ("cell", 4),
        ("sashed", 0),
        ("fitted", 4),
        ("composite", 1),
        ("filler", 1),
        ("frame", 2),
        ("border", 0),
        ("second-side", 1),
        ("oversize", 0),
        ("in2", 62 * 14 * INCH**2),
        ("in", 2 * (62 + 14) * INCH),
        ("garment:tee", 2),
        ("garment:fleece", 2),
        ("garment:zip", 1),
        ("garment:robe", 0),
    ],
)
def test_a_mixed_row_holds_so_much_of_each(per, amount):
    assert amount_of(per, MIXED, BAG) == amount


def test_every_named_amount_is_counted_here():
    counted = {"quilt", "garment", "block", "cell", "sashed", "fitted", "composite", "filler", "frame"}
    counted |= {"border", "second-side", "oversize", "in2", "in", "sleeve", "label", "plush-back", "pillow"}
    assert {per for per in PER if not per.startswith("size:")} - {"garment:…"} == counted


def test_a_quilt_is_no_pillow():
    assert amount_of("pillow", MIXED, BAG) == 0


def test_a_sleeve_and_a_label_are_there_or_not():
    plain = grid_quilt(1, 1, BLOCK)
    finished = replace(plain, finish=("sleeve", "label"))
    assert [amount_of(per, plain, BAG) for per in ("sleeve", "label")] == [0, 0]
    assert [amount_of(per, finished, BAG) for per in ("sleeve", "label")] == [1, 1]
    with pytest.raises(BadInput, match="tassel"):
        replace(plain, finish=("tassel",))


def test_a_sashed_quilt_counts_every_cell_as_sashed_and_fitted():
    quilt = grid_quilt(3, 4, BLOCK, pieces=["01F"], sashing=Sashing(2 * INCH))
    assert [amount_of(per, quilt, BAG) for per in ("sashed", "fitted", "block", "filler")] == [12, 12, 1, 11]


def test_an_even_plain_grid_needs_no_fitting():
    assert amount_of("fitted", grid_quilt(3, 4, BLOCK), BAG) == 0


def test_two_rings_of_border_are_one_border_to_pay_for():
    rings = (Border(Sides.all_round(INCH)), Border(Sides.all_round(4 * INCH)))
    assert amount_of("border", grid_quilt(2, 2, BLOCK, borders=rings), BAG) == 1


@pytest.mark.parametrize(
    ("width", "height", "room_width", "turn", "oversize"),
    [
        (15, 12, 20, 0, 1),  # wider than 14 and kept
        (15, 12, 14, 0, 0),  # cropped to 14
        (14, 14, 20, 0, 0),  # 14 is not over 14
        (12, 15, 20, 0, 0),  # 15 high, but the block is 14 high
        (12, 15, 20, 90, 1),  # turned, its 15 lie along the 20
        (15, 12, 20, 270, 0),  # turned, its 15 stand in the 14
        (15, 12, 20, 180, 1),
    ],
)
def test_a_print_is_oversize_when_more_than_14_inches_of_it_are_kept(
    width, height, room_width, turn, oversize
):
    bag = Bag((garment("01"),), (piece("01", width=width, height=height),))
    quilt = row(cell("a", 0, room_width, piece="01F", turn=turn))
    assert amount_of("oversize", quilt, bag) == oversize


def test_sides_beyond_the_first_are_counted_per_garment():
    bag = Bag(
        (garment("01"), garment("02")),
        tuple(piece(g, s) for g in ("01", "02") for s in ("front", "back", "pocket")),
    )
    quilt = grid_quilt(3, 2, BLOCK, pieces=[each.id for each in bag.pieces])
    assert amount_of("second-side", quilt, bag) == 4


def test_a_garment_left_out_of_the_quilt_costs_no_surcharge():
    assert amount_of("garment:fleece", grid_quilt(1, 1, BLOCK, pieces=["01F"]), BAG) == 0


@pytest.mark.parametrize("per", ["", "shirt", "order", "IN2"])
def test_an_unknown_amount_is_refused(per):
    with pytest.raises(BadInput) as caught:
        amount_of(per, MIXED, BAG)
    assert caught.value.field == "per"


@pytest.mark.parametrize("per", ["second-side", "oversize", "garment:tee"])
def test_a_quilt_with_a_piece_that_is_not_in_the_bag_is_refused(per):
    with pytest.raises(BadInput, match="no piece “99F”"):
        amount_of(per, grid_quilt(1, 1, BLOCK, pieces=["99F"]), BAG)
