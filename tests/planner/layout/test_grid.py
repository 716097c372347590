"""Even grids: sizes, fillers, leave-outs, and what is said when none fits."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.layout import Wish, check_layout, grid_options, grid_quilt
from planner.problems import BadInput
from planner.quilt import Bag, Border, Garment, Piece, Sashing
from planner.units import INCH, Rect, Sides, Size

SIDE = 14 * INCH
BLOCK = Size(SIDE, SIDE)
TWO_IN = Sashing(2 * INCH, outer=True, cornerstones=True)


def garment(number: int) -> Garment:
    return Garment(f"{number:02d}", "tee", {"cotton": 100})


def front(number: int, **change: object) -> Piece:
    piece = Piece(
        f"{number:02d}F", f"{number:02d}", "front", Size(11 * INCH, 12 * INCH),
        Sides(3 * INCH, 4 * INCH, 6 * INCH, 4 * INCH), "plastisol", "must",
    )  # fmt: skip
    return replace(piece, **change)


def back(number: int) -> Piece:
    return replace(front(number), id=f"{number:02d}B", side="back", wanted="may")


def bag_of(count: int, backs: int = 0) -> Bag:
    numbers = range(1, count + 1)
    pieces = [front(number) for number in numbers] + [back(number) for number in range(1, backs + 1)]
    return Bag(tuple(garment(number) for number in numbers), tuple(pieces))


def wish(width: int, height: int, **change: object) -> Wish:
    plain = Wish(Size(width * INCH, height * INCH), 2 * INCH, (BLOCK,), (TWO_IN,))
    return replace(plain, **change)


def test_twelve_shirts_make_the_throw_of_50_by_66() -> None:
    """Trade handbook S1 and 3.9: 3 by 4 blocks of 14 with 2-in sashing all round."""
    answer = grid_options(bag_of(12), wish(50, 66))
    best = answer.options[0]
    assert best.quilt.size == Size(50 * INCH, 66 * INCH)
    assert (best.cost, best.proved, best.left_out) == (0, True, ())


@pytest.mark.parametrize(
    ("columns", "rows", "width", "height"),
    [
        (2, 3, 34, 50),
        (3, 4, 50, 66),
        (4, 5, 66, 82),
        (4, 6, 66, 98),
        (5, 6, 82, 98),
        (6, 6, 98, 98),
        (7, 6, 114, 98),
    ],
)
def test_sizes_by_bed_are_those_of_the_handbook(columns: int, rows: int, width: int, height: int) -> None:
    """Trade handbook 3.9, blocks of 14 with 2-in sashing all round."""
    quilt = grid_quilt(columns, rows, BLOCK, sashing=TWO_IN)
    assert quilt.size == Size(width * INCH, height * INCH)


@pytest.mark.parametrize(
    ("shirts", "width", "height"), [(9, 45, 45), (12, 45, 60), (16, 60, 60), (20, 60, 75), (24, 60, 90)]
)
def test_blocks_of_15_edge_to_edge_give_the_printed_chart(shirts: int, width: int, height: int) -> None:
    """Maker's size chart (check values, section 6)."""
    edge_to_edge = wish(width, height, blocks=(Size(15 * INCH, 15 * INCH),), sashings=(None,), tolerance=0)
    answer = grid_options(bag_of(shirts), edge_to_edge)
    assert [option.quilt.size for option in answer.options] == [Size(width * INCH, height * INCH)]


def test_sixteen_blocks_cut_12_and_a_half_with_2_in_sashing_are_58_square() -> None:
    """W5: a quilter's blog, April 2014."""
    quilt = grid_quilt(4, 4, Size(12 * INCH, 12 * INCH), sashing=Sashing(2 * INCH, outer=True))
    assert quilt.size == Size(58 * INCH, 58 * INCH)


def test_six_across_are_90_wide_and_no_whole_number_of_rows_makes_96() -> None:
    """W24: target 88 by 96, border 4, sashing 2, block 12: 6 across (90 wide) and 6.43 down."""
    border = Border(Sides.all_round(4 * INCH))
    twelve = Size(12 * INCH, 12 * INCH)
    between = Sashing(2 * INCH, outer=False)
    assert grid_quilt(6, 6, twelve, sashing=between, borders=(border,)).size == Size(90 * INCH, 90 * INCH)
    # Six and seven rows are 90 and 104 long: 6.43 of them would be 96.
    near = wish(88, 96, blocks=(twelve,), sashings=(between,), borders=(border,))
    answer = grid_options(bag_of(36), near)
    assert answer.options == ()
    assert (
        grid_options(bag_of(36), replace(near, tolerance=6 * INCH)).options[0].quilt.size.width == 90 * INCH
    )


def test_spare_blocks_take_second_sides_before_fillers() -> None:
    best = grid_options(bag_of(11, backs=3), wish(50, 66)).options[0]
    assert [cell.piece for cell in best.quilt.cells].count(None) == 0
    assert {each.piece for each in best.left_out} == {"02B", "03B"}
    assert all("has another" in each.reason for each in best.left_out)


def test_what_is_still_missing_is_filled_plain() -> None:
    best = grid_options(bag_of(10), wish(50, 66)).options[0]
    assert sum(cell.is_filler for cell in best.quilt.cells) == 2


def test_a_piece_left_out_at_her_word_is_named_with_that_reason() -> None:
    bag = bag_of(12)
    bag = replace(bag, pieces=(*bag.pieces, replace(back(3), wanted="out")))
    best = grid_options(bag, wish(50, 66)).options[0]
    assert [(each.piece, each.reason) for each in best.left_out] == [("03B", "Not wanted in this quilt.")]


def test_where_no_grid_fits_it_says_why_and_names_the_nearest_counts() -> None:
    answer = grid_options(bag_of(13), wish(50, 66))
    assert answer.options == ()
    assert answer.nearest_counts == (11, 12)
    assert answer.why_none[0].what == "13 blocks do not fill 50 × 66 in in even rows."
    assert "11 or 12" in answer.why_none[0].change


def test_a_size_no_block_comes_near_says_so() -> None:
    answer = grid_options(bag_of(12), wish(10, 10))
    assert answer.nearest_counts == ()
    assert "comes near" in answer.why_none[0].what


def test_no_shirts_is_an_answer_with_a_reason() -> None:
    answer = grid_options(Bag(), wish(50, 66))
    assert answer.options == ()
    assert answer.why_none[0].what == "There is no piece to lay out."


def test_five_hundred_shirts_are_an_answer_with_a_reason() -> None:
    answer = grid_options(bag_of(500), wish(98, 98))
    assert answer.options == ()
    assert answer.nearest_counts == (35, 36)


def test_a_print_that_loses_something_is_named_and_noted() -> None:
    bag = bag_of(11)
    tall = replace(front(12), print_size=Size(12 * INCH, 15 * INCH))
    bag = Bag((*bag.garments, garment(12)), (*bag.pieces, tall))
    best = grid_options(bag, wish(50, 66)).options[0]
    assert best.cropped == ("12F",)
    assert best.notes == (
        "12F: Give it a block of 14 × 16 in. Or: Cut into the print: it loses 1 in of its height. Ask first.",
    )
    assert check_layout(best, bag) == ()


def test_the_first_of_two_equal_grids_is_always_the_same() -> None:
    answer = grid_options(bag_of(12), wish(58, 58, tolerance=10 * INCH), most=1)
    assert answer == grid_options(bag_of(12), wish(58, 58, tolerance=10 * INCH), most=1)
    assert len(answer.options) == 1


@pytest.mark.parametrize("change", [{"blocks": ()}, {"sashings": ()}, {"tolerance": -1}, {"style": "round"}])
def test_a_wish_that_offers_nothing_cannot_be_made(change: dict[str, object]) -> None:
    with pytest.raises(BadInput) as fault:
        wish(50, 66, **change)
    assert fault.value.field in change


@settings(max_examples=40)
@given(
    st.integers(1, 40),
    st.integers(0, 6),
    st.sampled_from([(50, 66), (60, 75), (70, 90), (45, 45)]),
    st.integers(0, 1000),
)
def test_every_grid_is_sound_and_shuffling_the_bag_changes_nothing(
    shirts: int, backs: int, target: tuple[int, int], seed: int
) -> None:
    bag = bag_of(shirts, min(backs, shirts))
    offered = wish(
        *target,
        tolerance=4 * INCH,
        blocks=(BLOCK, Size(12 * INCH, 12 * INCH), Size(9 * INCH, 10 * INCH)),
        sashings=(None, TWO_IN, Sashing(INCH, outer=False)),
        borders=(None, Border(Sides(3 * INCH, 2 * INCH, 3 * INCH, 2 * INCH))),
    )
    answer = grid_options(bag, offered)
    assert bool(answer.options) != bool(answer.why_none)
    for layout in answer.options:
        assert check_layout(layout, bag) == ()
        assert layout.bound == answer.options[0].cost <= layout.cost
    chance = random.Random(seed)
    shuffled = Bag(
        tuple(chance.sample(bag.garments, len(bag.garments))),
        tuple(chance.sample(bag.pieces, len(bag.pieces))),
    )
    assert grid_options(shuffled, offered) == answer


def test_blocks_lie_row_by_row_from_the_top_left() -> None:
    quilt = grid_quilt(
        2, 1, BLOCK, pieces=["a", "b"], sashing=TWO_IN, borders=(Border(Sides.all_round(INCH)),)
    )
    assert [cell.at for cell in quilt.cells] == [
        Rect(3 * INCH, 3 * INCH, SIDE, SIDE),
        Rect(19 * INCH, 3 * INCH, SIDE, SIDE),
    ]
    with pytest.raises(BadInput):
        grid_quilt(1, 1, BLOCK, pieces=["a", "b"])
