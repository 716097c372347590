"""Counts and cut sizes of what is cut from cloth, against printed worked examples."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.layout.blocks import grid_quilt
from planner.materials import Allowances, CutPiece, Ribbon, parts
from planner.problems import BadInput
from planner.quilt import Binding, Border, Cell, Quilt
from planner.units import INCH, Rect, Sides, Size

from .samples import BOUND, border, grid, inch, sash, size


def cut(quilt, role):
    return parts(quilt, allowances=Allowances()).get(role, ())


def cut_sizes(items):
    """What is cut, as {(long side, other side): how many}, ribbons counted among the pieces."""
    found = {}
    for item in items:
        key = (item.length, item.width) if isinstance(item, Ribbon) else (item.across, item.along)
        found[key] = found.get(key, 0) + (item.count if isinstance(item, CutPiece) else 1)
    return found


def sizes(*lines):
    """Expected cut sizes, written (count, long side, other side)."""
    return {(inch(long), inch(short)): count for count, long, short in lines}


def test_sashing_all_round_has_a_strip_on_every_block_side_and_a_cornerstone_at_every_corner():
    # susanintexas blog, Feb 2009: 4 x 5 blocks, 30 cornerstones (n+1)(m+1), 49 sashes (n+1)m + (m+1)n
    quilt = grid(4, 5, 12, sashing=sash(2))
    assert sum(item.count for item in cut(quilt, "sashing")) == 49
    assert sum(item.count for item in cut(quilt, "cornerstone")) == 30


def test_sashing_only_between_the_blocks_has_no_strip_outside():
    # arithmetic of the same rule: (n-1)m + (m-1)n strips, (n-1)(m-1) cornerstones
    quilt = grid(4, 5, 12, sashing=sash(2, outer=False))
    assert cut_sizes(cut(quilt, "sashing")) == sizes((3 * 5 + 4 * 4, "12 1/2", "2 1/2"))
    assert cut_sizes(cut(quilt, "cornerstone")) == sizes((12, "2 1/2", "2 1/2"))


def test_sashing_without_cornerstones_is_short_between_blocks_and_long_between_rows():
    # madamwitty T-shirt quilt tutorial part IV, May 2007: 6 x 7 of 12 in, 2 between:
    # 35 short strips 2 1/2 x 12 1/2 and 6 long strips 2 1/2 x 82 1/2
    quilt = grid(6, 7, 12, sashing=sash(2, outer=False, cornerstones=False))
    items = cut(quilt, "sashing")
    assert cut_sizes(items) == sizes((35, "12 1/2", "2 1/2"), (6, "82 1/2", "2 1/2"))
    assert [type(item) for item in items] == [CutPiece] + [Ribbon] * 6


def test_outer_sashing_without_cornerstones_lies_above_and_below_and_then_down_both_sides():
    # common practice; arithmetic: rows 2*12 + 2 = 26, whole height 3*12 + 4*2 = 44
    quilt = grid(2, 3, 12, sashing=sash(2, cornerstones=False))
    assert cut_sizes(cut(quilt, "sashing")) == sizes(
        (3, "12 1/2", "2 1/2"), (4, "26 1/2", "2 1/2"), (2, "44 1/2", "2 1/2")
    )


def test_sashing_covers_exactly_what_the_blocks_leave_free():
    # finished areas must add up: quilt = blocks + strips + cornerstones
    quilt = grid(3, 4, 14, sashing=sash(2))
    seams = 2 * quilt.seam
    covered = sum((i.across - seams) * (i.along - seams) * i.count for i in cut(quilt, "sashing"))
    covered += sum((i.across - seams) * (i.along - seams) * i.count for i in cut(quilt, "cornerstone"))
    covered += sum(cell.at.size.area for cell in quilt.cells)
    assert covered == quilt.size.area


def uneven_grid(sashing):
    """Two columns, 12 and 10 wide, and two rows, 14 and 9 high, 2 in apart all round."""
    cells = [
        Cell(f"{x}{y}", Rect(x * INCH, y * INCH, width * INCH, height * INCH))
        for x, width in ((2, 12), (16, 10))
        for y, height in ((2, 14), (18, 9))
    ]
    return Quilt(size(28, 29), tuple(cells), sashing)


def test_sashing_is_read_off_the_blocks_where_columns_and_rows_differ():
    quilt = uneven_grid(sash(2))
    assert cut_sizes(cut(quilt, "sashing")) == sizes(
        (3, "14 1/2", "2 1/2"), (3, "12 1/2", "2 1/2"), (3, "10 1/2", "2 1/2"), (3, "9 1/2", "2 1/2")
    )


def three_blocks(sashing, *, gap=2):
    """One tall block, and two beside it."""
    right = (10 + gap) * INCH
    cells = (
        Cell("a", Rect(0, 0, 10 * INCH, 20 * INCH)),
        Cell("b", Rect(right, 0, 10 * INCH, 9 * INCH)),
        Cell("c", Rect(right, 11 * INCH, 10 * INCH, 9 * INCH)),
    )
    return Quilt(size(20 + gap, 20), cells, sashing)


def test_between_blocks_of_many_sizes_one_strip_lies_along_each_seam():
    # arithmetic: 20 in down between the tall block and the two, 10 in between those
    quilt = three_blocks(sash(2, outer=False, cornerstones=False))
    assert cut_sizes(cut(quilt, "sashing")) == sizes((1, "20 1/2", "2 1/2"), (1, "10 1/2", "2 1/2"))


def test_outer_sashing_of_mixed_blocks_lies_above_and_below_and_then_down_both_sides():
    # arithmetic: 22 + 2·2 = 26 wide, 20 + 2·2 = 24 high; two of 22 across, two of 24 down
    inner = three_blocks(sash(2, outer=False, cornerstones=False))
    moved = tuple(
        replace(each, at=replace(each.at, x=each.at.x + inch(2), y=each.at.y + inch(2)))
        for each in inner.cells
    )
    quilt = Quilt(size(26, 24), moved, sash(2, cornerstones=False))
    assert cut_sizes(cut(quilt, "sashing")) == sizes(
        (1, "20 1/2", "2 1/2"), (1, "10 1/2", "2 1/2"), (2, "22 1/2", "2 1/2"), (2, "24 1/2", "2 1/2")
    )


@pytest.mark.parametrize(
    ("quilt", "words"),
    [
        (three_blocks(sash(2, outer=False, cornerstones=True)), "cornerstone"),
        (three_blocks(sash(2, outer=False, cornerstones=False), gap=3), "gap or overlap"),
    ],
)
def test_sashing_that_cannot_be_told_from_the_blocks_is_refused(quilt, words):
    with pytest.raises(BadInput, match=words) as caught:
        parts(quilt, allowances=Allowances())
    assert caught.value.field == "quilt.sashing"


def test_sixteen_shirts_with_sashing_all_round_finish_58_in_square():
    # b-quilts blog, April 2014: 4 x 4, cut 12 1/2, sashing 2 finished incl. outer
    assert grid(4, 4, 12, sashing=sash(2)).size == size(58, 58)


def test_a_target_of_88_by_96_takes_six_blocks_across_and_between_six_and_seven_down():
    # craft how-to: border 4, sashing 2, block 12: 6 across (90 wide) and 6.43 down
    def quilt(rows):
        return grid(6, rows, 12, sashing=sash(2, outer=False), borders=[border(4)])

    assert quilt(6).size.width == inch(90)
    assert quilt(6).size.height < inch(96) < quilt(7).size.height


def test_a_printed_row_of_41_3_4_is_a_slip_for_41_1_2():
    # 9 blocks of 12 1/2 with 3 in cut sashing; the same page's 48 1/2 after 4 in cut borders needs 41 1/2
    quilt = grid(3, 3, 12, sashing=sash("2 1/2", outer=False, cornerstones=False), borders=[border("3 1/2")])
    long = next(item for item in cut(quilt, "sashing") if isinstance(item, Ribbon))
    top = next(item for item in cut(quilt, "border") if item.name == "border top")
    assert long.length == inch("41 1/2") != inch("41 3/4")
    assert top.length == inch("48 1/2")


def test_a_butted_border_takes_the_perimeter_and_its_corners():
    # consumer-education slides "Can you figure the amount of yardage to buy?": top 70 x 86,
    # border cut 6 1/2: perimeter 312, with corners 338 in, finished 82 x 98
    quilt = grid_quilt(1, 1, size(70, 86), borders=(border(6),))
    assert 2 * (inch(70) + inch(86)) == inch(312)
    assert sum(item.length for item in cut(quilt, "border")) == inch(338)
    assert quilt.size == size(82, 98)


def test_three_borders_in_turn_are_measured_on_the_top_as_it_stands():
    # guild block-of-the-month sheet: 32 1/2 x 44 top (cut), borders of 1, 2 and 4 finished,
    # the last with corner squares
    borders = (border(1), border(2), border(4, "squares"))
    quilt = grid_quilt(1, 1, size(32, "43 1/2"), borders=borders)
    assert cut_sizes(cut(quilt, "border")) == sizes(
        (2, 44, "1 1/2"),
        (2, "34 1/2", "1 1/2"),
        (2, 46, "2 1/2"),
        (2, "38 1/2", "2 1/2"),
        (2, 50, "4 1/2"),
        (2, "38 1/2", "4 1/2"),
        (4, "4 1/2", "4 1/2"),
    )


def test_a_mitred_border_is_as_long_as_the_finished_outside():
    # common practice: side + 2 widths + seam allowances
    quilt = grid_quilt(1, 1, size(40, 50), borders=(border(5, "mitred"),))
    assert cut_sizes(cut(quilt, "border")) == sizes((2, "60 1/2", "5 1/2"), (2, "50 1/2", "5 1/2"))


def test_a_border_on_two_sides_only_has_two_strips():
    quilt = grid_quilt(1, 1, size(90, 80), borders=(Border(Sides(8 * INCH, 0, 8 * INCH, 0)),))
    assert cut_sizes(cut(quilt, "border")) == sizes((2, "90 1/2", "8 1/2"))


def framed(frame: Sides) -> Quilt:
    return Quilt(size(14, 14), (Cell("01", Rect(0, 0, 14 * INCH, 14 * INCH), piece="p", frame=frame),))


def test_a_frame_on_top_and_bottom_is_as_wide_as_the_block():
    # trade handbook 3.2: finished strip = (block - piece) / 2, cut + 1/2; a 12 in piece in a 14 in block
    quilt = framed(Sides(INCH, 0, INCH, 0))
    assert cut_sizes(cut(quilt, "frame")) == sizes((2, "14 1/2", "1 1/2"))


def test_a_frame_all_round_goes_on_at_the_sides_first():
    quilt = framed(Sides.all_round(INCH))
    assert cut_sizes(cut(quilt, "frame")) == sizes((2, "12 1/2", "1 1/2"), (2, "14 1/2", "1 1/2"))


def test_a_plain_block_and_a_plain_corner_of_a_composite_are_fillers():
    composite = Cell(
        "02",
        Rect(12 * INCH, 0, 12 * INCH, 12 * INCH),
        inside=(
            Cell("02a", Rect(12 * INCH, 0, 6 * INCH, 12 * INCH), piece="p"),
            Cell("02b", Rect(18 * INCH, 0, 6 * INCH, 12 * INCH)),
        ),
    )
    quilt = Quilt(size(24, 12), (Cell("01", Rect(0, 0, 12 * INCH, 12 * INCH)), composite))
    assert cut_sizes(cut(quilt, "filler")) == sizes((1, "12 1/2", "12 1/2"), (1, "6 1/2", "12 1/2"))


def test_straight_binding_is_one_ribbon_as_long_as_the_edge_and_its_extra():
    (ribbon,) = cut(grid(3, 4, 14, sashing=sash(2), binding=BOUND), "binding")
    assert (ribbon.width, ribbon.length, ribbon.loss) == (inch("2 1/2"), inch(232 + 12), inch("2 1/2"))


def test_bias_binding_comes_out_of_a_square_that_keeps_its_grain():
    # sqrt(244 x 2.5) = 24.7
    quilt = grid(3, 4, 14, sashing=sash(2), binding=Binding(bias=True))
    assert cut(quilt, "binding") == (CutPiece("binding", inch(25), inch(25), 1, keep_grain=True),)


def test_only_roles_that_occur_are_named():
    quilt = Quilt(size(12, 12), (Cell("01", Rect(0, 0, 12 * INCH, 12 * INCH), piece="p"),))
    assert parts(quilt, allowances=Allowances()) == {}
    full = framed(Sides.all_round(INCH))
    assert set(parts(full, allowances=Allowances())) == {"frame"}


def test_the_shops_own_join_and_shortest_end_reach_every_ribbon():
    quilt = grid(2, 2, 12, sashing=sash(2, cornerstones=False), borders=[border(3)], binding=BOUND)
    own = Allowances(join=0, least_end=INCH, binding_end=2 * INCH)
    items = [item for role in parts(quilt, allowances=own).values() for item in role]
    ribbons = [item for item in items if isinstance(item, Ribbon)]
    assert len(ribbons) == 3 + 2 + 4 + 1
    assert {(item.join, item.least_end) for item in ribbons[:-1]} == {(0, INCH)}
    assert (ribbons[-1].name, ribbons[-1].join, ribbons[-1].least_end) == ("binding", 0, 2 * INCH)


def test_binding_is_not_pieced_from_many_short_ends():
    quilt = grid(2, 2, 12, sashing=sash(2), borders=[], binding=BOUND)
    (binding,) = parts(quilt, allowances=Allowances())["binding"]
    assert binding.least_end == 20 * INCH


def test_no_two_parts_of_a_role_share_a_name():
    quilt = grid_quilt(
        3,
        4,
        Size(inch(12), inch(14)),
        sashing=sash(2, cornerstones=False),
        borders=(border(1), border(3, "squares")),
    )
    for items in parts(quilt, allowances=Allowances()).values():
        assert len({item.name for item in items}) == len(items)
