"""What is to be sewn: it adds up, or it cannot be built."""

from __future__ import annotations

import pytest

from planner.layout.blocks import grid_quilt
from planner.problems import BadInput
from planner.quilt import Binding, Border, Cell, Quilt, Sashing
from planner.units import INCH, Rect, Sides, Size

BLOCK = Size(14 * INCH, 14 * INCH)
ALL_ROUND = Border(Sides.all_round(4 * INCH))


def place(x, y, width, height) -> Rect:
    """A place in whole inches."""
    return Rect(x * INCH, y * INCH, width * INCH, height * INCH)


def cell(id, *at, **rest) -> Cell:
    """A block at a place in whole inches."""
    return Cell(id, place(*at), **rest)


@pytest.mark.parametrize(
    ("columns", "rows", "side", "sashing", "borders", "width", "height"),
    [
        # "b-quilts" blog, April 2014: 16 shirts cut 12 1/2, sashing 2 all round.
        (4, 4, 12, Sashing(2 * INCH), (), 58, 58),
        # Trade handbook S1, S2 and S4.
        (3, 4, 14, Sashing(2 * INCH), (), 50, 66),
        (4, 5, 14, Sashing(2 * INCH), (), 66, 82),
        (4, 4, 14, None, (ALL_ROUND,), 64, 64),
        (4, 5, 15, None, (ALL_ROUND,), 68, 83),
        # A maker's size chart of T-shirt quilts, 15 in blocks edge to edge.
        (3, 3, 15, None, (), 45, 45),
        (4, 6, 15, None, (), 60, 90),
    ],
)
def test_blocks_sashing_and_borders_add_up_to_the_printed_size(
    columns, rows, side, sashing, borders, width, height
):
    quilt = grid_quilt(columns, rows, Size(side * INCH, side * INCH), sashing=sashing, borders=borders)
    assert quilt.size == Size(width * INCH, height * INCH)
    assert quilt.perimeter == 2 * (width + height) * INCH


@pytest.mark.parametrize("by", [1, -1, INCH])
def test_a_quilt_whose_parts_do_not_add_up_cannot_be_built(by):
    right = grid_quilt(3, 3, BLOCK, sashing=Sashing(2 * INCH), borders=(ALL_ROUND,))
    with pytest.raises(BadInput) as caught:
        Quilt(right.size.grown(by), right.cells, right.sashing, right.borders)
    assert caught.value.field == "size"


def test_a_quilt_whose_blocks_lie_beside_their_place_cannot_be_built():
    with pytest.raises(BadInput) as caught:
        Quilt(Size(10 * INCH, 10 * INCH), (cell("a", 1, 0, 10, 10),))
    assert caught.value.field == "size"


def test_a_quilt_that_forgets_its_border_cannot_be_built():
    right = grid_quilt(3, 3, BLOCK, borders=(ALL_ROUND,))
    with pytest.raises(BadInput):
        Quilt(right.size, right.cells)


def test_a_quilt_without_blocks_cannot_be_built():
    with pytest.raises(BadInput) as caught:
        Quilt(BLOCK, ())
    assert caught.value.field == "cells"


def test_blocks_may_touch_but_not_overlap():
    assert Quilt(Size(20 * INCH, 10 * INCH), (cell("a", 0, 0, 10, 10), cell("b", 10, 0, 10, 10)))
    with pytest.raises(BadInput, match="overlap"):
        Quilt(Size(20 * INCH, 10 * INCH), (cell("a", 0, 0, 11, 10), cell("b", 10, 0, 10, 10)))


@pytest.mark.parametrize(
    "cells",
    [
        (cell("a", 0, 0, 10, 10), cell("a", 10, 0, 10, 10)),
        (cell("a", 0, 0, 10, 10), cell("b", 10, 0, 10, 10, inside=(cell("a", 10, 0, 5, 10),))),
    ],
)
def test_a_block_id_is_used_once_even_inside_a_composite(cells):
    with pytest.raises(BadInput, match="“a” stands there twice"):
        Quilt(Size(20 * INCH, 10 * INCH), cells)


def test_a_composite_holds_cells_within_its_frame():
    inside = (cell("a", 1, 1, 4, 8), cell("b", 5, 1, 4, 8))
    block = cell("c", 0, 0, 10, 10, inside=inside, frame=Sides.all_round(INCH))
    assert block.room == place(1, 1, 8, 8)


@pytest.mark.parametrize(
    ("inside", "field"),
    [
        ((cell("a", 1, 1, 4, 8), cell("b", 5, 1, 5, 8)), "inside[1].at"),
        ((cell("a", 0, 1, 4, 8),), "inside[0].at"),
        ((cell("a", 20, 20, 4, 8),), "inside[0].at"),
        ((cell("a", 1, 1, 5, 8), cell("b", 5, 1, 4, 8)), "inside"),
    ],
)
def test_a_composite_out_of_its_block_or_overlapping_cannot_be_built(inside, field):
    with pytest.raises(BadInput) as caught:
        cell("c", 0, 0, 10, 10, inside=inside, frame=Sides.all_round(INCH))
    assert caught.value.field == field


@pytest.mark.parametrize(
    ("rest", "field"),
    [
        ({"turn": 45}, "turn"),
        ({"turn": 360}, "turn"),
        ({"piece": "p", "inside": (cell("a", 0, 0, 1, 1),)}, "inside"),
        ({"frame": Sides(left=5 * INCH, right=5 * INCH)}, "frame"),
        ({"frame": Sides(top=11 * INCH)}, "frame"),
    ],
)
def test_a_block_that_makes_no_sense_cannot_be_built(rest, field):
    with pytest.raises(BadInput) as caught:
        cell("c", 0, 0, 10, 10, **rest)
    assert caught.value.field == field


def test_a_block_of_no_width_cannot_be_built():
    with pytest.raises(BadInput) as caught:
        cell("c", 0, 0, 0, 10)
    assert caught.value.field == "at"


@pytest.mark.parametrize(
    ("build", "field"),
    [
        (lambda: Sashing(0), "width"),
        (lambda: Border(Sides()), "widths"),
        (lambda: Border(Sides.all_round(INCH), "round"), "corners"),
        (lambda: Border(Sides(top=INCH, bottom=INCH), "mitred"), "corners"),
        (lambda: Binding(0), "cut"),
        (lambda: Binding(extra=-1), "extra"),
        (lambda: Quilt(BLOCK, (Cell("a", Rect(0, 0, *(14 * INCH,) * 2)),), seam=0), "seam"),
    ],
)
def test_trims_that_make_no_sense_cannot_be_built(build, field):
    with pytest.raises(BadInput) as caught:
        build()
    assert caught.value.field == field


def test_a_border_may_lie_on_two_sides_only():
    # Trade handbook S7: 90 by 80 with 8 in panels at top and bottom is 90 by 96.
    top_and_bottom = Border(Sides(top=8 * INCH, bottom=8 * INCH))
    quilt = Quilt(Size(90 * INCH, 96 * INCH), (cell("a", 0, 8, 90, 80),), borders=(top_and_bottom,))
    assert quilt.trims == Sides(top=8 * INCH, bottom=8 * INCH)
    assert quilt.field == place(0, 8, 90, 80)


def test_the_field_is_blocks_and_sashing_without_the_borders():
    quilt = grid_quilt(2, 2, BLOCK, sashing=Sashing(2 * INCH), borders=(ALL_ROUND,))
    assert quilt.field == place(4, 4, 34, 34)


def test_every_piece_is_found_inside_composites_too():
    inside = (cell("a", 0, 0, 5, 10, piece="p"), cell("b", 5, 0, 5, 10, piece="q"))
    cells = (
        cell("c", 0, 0, 10, 10, inside=inside),
        cell("d", 10, 0, 10, 10, piece="r"),
        cell("e", 20, 0, 10, 10),
    )
    quilt = Quilt(Size(30 * INCH, 10 * INCH), cells)
    assert [each.piece for each in quilt.with_pieces()] == ["p", "q", "r"]
    assert [each.is_filler for each in quilt.cells] == [False, False, True]
