"""Blocks of a quilt moved, turned, emptied, framed: what it is afterwards, with nothing written."""

from __future__ import annotations

import pytest

from orders.quilt.block_fit import print_room, strips_in, turned_round
from orders.quilt.block_moves import (
    CannotMove,
    called,
    emptied,
    is_same_layout,
    traded,
    turned,
    with_kept_ids,
)
from orders.quilt.block_panels import others_for, plain_block_for, shown_instead
from orders.quilt.block_strips import border_of, bordered, framed
from planner.layout import Layout, check_layout, grid_quilt
from planner.quilt import Bag, Cell, Garment, Piece, Quilt, Sashing
from planner.units import INCH, Rect, Sides, Size


def piece(id, width=11, height=12, *, free=4, **change):
    return Piece(
        id, f"S{id[:2]}", change.pop("side", "front"),
        print_size=Size(width * INCH, height * INCH), free=Sides.all_round(free * INCH), **change,
    )  # fmt: skip


def pieces(*ids, **change):
    return {id: piece(id, **change) for id in ids}


@pytest.fixture
def grid():
    """Return two by two blocks of 14 in, sashed; the last is plain."""
    block = Size(14 * INCH, 14 * INCH)
    return grid_quilt(2, 2, block, pieces=["01F", "02F", "03F"], sashing=Sashing(2 * INCH))


@pytest.fixture
def shared():
    """Return a quilt of two blocks of 14 in: four prints share the first, each a quarter of it."""
    half = 7 * INCH
    inside = tuple(
        Cell(f"01{'abcd'[n]}", Rect(n % 2 * half, n // 2 * half, half, half), piece=f"0{n + 1}P")
        for n in range(4)
    )
    whole = Cell("01", Rect(0, 0, 2 * half, 2 * half), inside=inside)
    return Quilt(
        Size(4 * half, 2 * half), (whole, Cell("02", Rect(2 * half, 0, 2 * half, 2 * half), piece="05F"))
    )


def bag_of(*pieces):
    garments = {each.garment: Garment(each.garment, "tee", {"cotton": 100}) for each in pieces}
    return Bag(tuple(garments.values()), pieces)


def test_a_block_that_several_share_trades_places_with_all_that_lies_in_it(shared):
    after = {cell.id: cell for cell in traded(shared, "01", "02", pieces={}, unit="in").cells}
    assert after["01"].at == Rect(14 * INCH, 0, 14 * INCH, 14 * INCH)
    assert [cell.at.x // INCH for cell in after["01"].inside] == [14, 21, 14, 21]
    assert after["02"].at.x == 0


def test_a_part_of_a_shared_block_does_not_trade_places_by_itself(shared):
    with pytest.raises(CannotMove, match="01P shares its block"):
        traded(shared, "01a", "02", pieces={}, unit="in")


def test_a_shared_block_turned_round_has_its_first_print_last_and_twice_is_as_before(shared):
    after = turned(shared, "01").cells[0]
    assert {cell.piece: (cell.at.x // INCH, cell.at.y // INCH, cell.turn) for cell in after.inside} == {
        "01P": (7, 7, 180), "02P": (0, 7, 180), "03P": (7, 0, 180), "04P": (0, 0, 180),
    }  # fmt: skip
    assert turned(turned(shared, "01"), "01") == shared


def test_a_part_of_a_shared_block_turns_where_it_lies(shared):
    after = turned(shared, "01b").cells[0]
    assert [(cell.at, cell.turn) for cell in after.inside] == [
        (cell.at, 180 if cell.id == "01b" else 0) for cell in shared.cells[0].inside
    ]


def test_one_of_a_shared_block_is_left_out_and_the_last_leaves_one_plain_block(shared):
    with pytest.raises(CannotMove, match="Choose the one"):
        emptied(shared, "01")
    one = emptied(shared, "01c")
    assert called(one.cells[0]) == "The block of 01P, 02P and 04P"
    assert sum(cell.is_filler for cell in one.cells[0].inside) == 1
    for part in ("01a", "01b", "01d"):
        one = emptied(one, part)
    assert one.cells[0].is_filler
    assert one.cells[0].at == shared.cells[0].at


def test_a_shared_block_keeps_its_name_in_another_layout_of_the_same_prints(shared):
    before = traded(shared, "01", "02", pieces={}, unit="in")
    renamed = with_kept_ids(Quilt(shared.size, tuple(reversed(shared.cells))), before)
    assert [cell.id for cell in renamed.cells] == ["02", "01"]
    assert is_same_layout(renamed, shared)
    assert not is_same_layout(before, shared)


def test_strips_lie_within_the_block_and_leave_the_size_of_the_quilt(grid):
    after = framed(grid, "02", Sides.all_round(INCH), piece=piece("02F"), unit="in")
    cell = after.cells[1]
    assert (cell.at, cell.room.size) == (grid.cells[1].at, Size(12 * INCH, 12 * INCH))
    assert after.size == grid.size
    bag = bag_of(*pieces("01F", "02F", "03F").values())
    assert check_layout(Layout(after), bag) == ()


def test_strips_that_would_cover_the_print_are_refused_and_the_widest_that_fit_are_named(grid):
    with pytest.raises(CannotMove, match="There is room for 1 in at most"):
        framed(grid, "02", Sides.all_round(2 * INCH), piece=piece("02F"), unit="in")
    with pytest.raises(CannotMove, match="There is room for 3 in at most"):
        framed(grid, "02", Sides(left=4 * INCH), piece=piece("02F"), unit="in")
    with pytest.raises(CannotMove, match="no room for strips"):
        framed(grid, "02", Sides(top=INCH), piece=piece("02F", 14, 14), unit="in")
    with pytest.raises(CannotMove, match="There is room for 1 in at most"):
        framed(grid, "02", Sides.all_round(7 * INCH), piece=piece("02F"), unit="in")


def test_strips_of_a_piece_on_its_side_are_measured_on_its_side(grid):
    lying = Quilt(grid.size, tuple(
        Cell(cell.id, cell.at, cell.piece, turn=90 if cell.piece else 0) for cell in grid.cells
    ), grid.sashing)  # fmt: skip
    with pytest.raises(CannotMove, match="There is room for 2 in at most"):
        framed(lying, "02", Sides(left=3 * INCH), piece=piece("02F", 10, 12), unit="in")


def test_strips_that_the_cloth_needs_cannot_be_taken_off_and_say_which_they_are(grid):
    short = piece("02F", 9, 9, free=1)
    with pytest.raises(CannotMove, match=r"has not the cloth for so much of its block\. Add strips of"):
        framed(grid, "02", Sides(), piece=short, unit="in")
    needed = strips_in(short, Size(14 * INCH, 14 * INCH), turn=0, unit="in")
    assert framed(grid, "02", needed.frame, piece=short, unit="in").cells[1].frame == needed.frame


def test_what_is_cut_keeps_its_strips(grid):
    cut = piece("02F", cut=Size(14 * INCH + INCH // 2, 14 * INCH + INCH // 2))
    with pytest.raises(CannotMove, match="02F is cut already"):
        framed(grid, "02", Sides.all_round(INCH), piece=cut, unit="in")


def test_plain_cloth_takes_no_strips(grid):
    with pytest.raises(CannotMove, match="Strips go round a shirt"):
        framed(grid, "04", Sides.all_round(INCH), piece=piece("04F"), unit="in")


def test_a_border_makes_the_quilt_larger_and_moves_every_block_in(grid):
    after = bordered(grid, across=3 * INCH, down=4 * INCH)
    assert after.size == Size(grid.size.width + 6 * INCH, grid.size.height + 8 * INCH)
    assert after.cells[0].at.x == grid.cells[0].at.x + 3 * INCH
    assert after.cells[0].at.y == grid.cells[0].at.y + 4 * INCH
    assert border_of(after) == (3 * INCH, 4 * INCH)


def test_a_border_changed_and_taken_off_leaves_the_quilt_as_it_was(grid):
    wide = bordered(grid, across=3 * INCH, down=4 * INCH)
    assert bordered(bordered(wide, across=0, down=8 * INCH), across=0, down=0) == grid


def test_panels_of_eight_inches_at_top_and_bottom_make_90_by_80_into_90_by_96():
    """Scenario S7 of the trade handbook: 90 × 80 and 8-in panels top and bottom are 90 × 96."""
    columns = [(5, 14, 16)] * 3 + [(4, 16, 20)] * 3
    cells, x = [], 0
    for count, wide, high in columns:
        for row in range(count):
            at = Rect(x * INCH, row * high * INCH, wide * INCH, high * INCH)
            cells.append(Cell(f"{len(cells):02d}", at))
        x += wide
    tour = Quilt(Size(90 * INCH, 80 * INCH), tuple(cells))
    assert bordered(tour, across=0, down=8 * INCH).size == Size(90 * INCH, 96 * INCH)


def test_another_piece_is_a_new_block_with_the_strips_it_needs(grid):
    after = shown_instead(grid, "02", piece("02B", 9, 9, free=1, side="back"), unit="in")
    cell = after.cells[1]
    assert (cell.id, cell.piece, cell.at) == ("05", "02B", grid.cells[1].at)
    assert cell.frame
    with pytest.raises(CannotMove, match="03F has a block already"):
        shown_instead(grid, "02", piece("03F"), unit="in")
    with pytest.raises(CannotMove, match="02B does not fit there"):
        shown_instead(grid, "02", piece("02B", 15, 15, side="back"), unit="in")


def test_a_piece_in_a_shared_block_is_shown_instead_of_its_neighbor_only(shared):
    after = shown_instead(shared, "01b", piece("09P", 3, 3), unit="in")
    assert called(after.cells[0]) == "The block of 01P, 03P, 04P and 09P"
    with pytest.raises(CannotMove, match="Choose one of them first"):
        shown_instead(shared, "01", piece("09P", 3, 3), unit="in")


def test_the_other_side_of_the_same_shirt_is_offered_first_then_what_fits(grid):
    more = [piece("09F", 20, 20), piece("08F"), piece("02B", side="back"), piece("01F")]
    found = others_for(grid, grid.cells[1], [*more, piece("02F")], unit="in")
    assert [(each.piece.id, each.fits) for each in found] == [("02B", True), ("08F", True), ("09F", False)]
    assert found[2].words.startswith("Does not fit here. ")


def test_a_piece_comes_back_to_the_smallest_plain_block_that_takes_it_without_strips():
    sizes = [(10, 24), (16, 24), (14, 24), (2, 24)]
    cells, x = [], 0
    for wide, high in sizes:
        cells.append(Cell(f"{len(cells)}", Rect(x * INCH, 0, wide * INCH, high * INCH)))
        x += wide
    quilt = Quilt(Size(x * INCH, 24 * INCH), tuple(cells))
    assert plain_block_for(quilt, piece("01F", 11, 12, free=8), unit="in").id == "2"
    assert plain_block_for(quilt, piece("01F", 30, 30), unit="in") is None


@pytest.mark.parametrize(("turn", "lies"), [(0, "trbl"), (90, "ltrb"), (180, "bltr"), (270, "rblt")])
def test_what_is_at_the_top_as_worn_lies_at_the_right_when_it_is_turned_a_quarter(turn, lies):
    assert "".join(turned_round(tuple("trbl"), turn)) == lies


def test_the_room_beside_a_print_is_told_for_each_side_as_it_lies():
    off = piece("01F", 11, 12, shift=Sides(left=INCH))
    room = print_room(Cell("01", Rect(0, 0, 14 * INCH, 14 * INCH), "01F"), off)
    assert {side: ticks / INCH for side, ticks in room.items()} == {
        "top": 1, "right": 0.5, "bottom": 1, "left": 2.5,
    }  # fmt: skip
    upside = print_room(Cell("01", Rect(0, 0, 14 * INCH, 14 * INCH), "01F", turn=180), off)
    assert (upside["left"], upside["right"]) == (room["right"], room["left"])
    assert print_room(Cell("01", Rect(0, 0, 14 * INCH, 14 * INCH), "01F"), piece("01F", 0, 0)) == {}
