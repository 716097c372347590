"""The order of sewing: each step joins what is there by then, in one straight seam after another."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.layout import Layout, grid_quilt, mixed_layout, sewing_order
from planner.problems import BadInput, Limit
from planner.quilt import Bag, Cell, Garment, Quilt, Sashing
from planner.units import INCH, Rect, Size

from .quilts import bag_of, inches, piece, random_bag, wish_for

FOUR = bag_of(*(piece(f"{n:02d}F", inches(10, 10)) for n in range(1, 5)))


def grid(columns: int, rows: int, **change: object) -> Layout:
    pieces = [each.id for each in FOUR.pieces][: columns * rows]
    return Layout(grid_quilt(columns, rows, inches(12, 14), pieces=pieces, **change))


def with_thick(*garments: str) -> Bag:
    """The bag with sweatshirts among its garments."""
    thick = {id: Garment(id, "sweatshirt", {"cotton": 100}, thickness="thick") for id in garments}
    return replace(FOUR, garments=tuple(thick.get(each.id, each) for each in FOUR.garments))


def test_a_grid_is_sewn_in_rows_and_the_rows_to_one_another() -> None:
    first, second, last = sewing_order(grid(2, 2), FOUR)
    assert (first.joins, first.makes, first.cut, first.length) == (("01", "02"), "part A", "down", 14 * INCH)
    assert (second.joins, second.makes) == (("03", "04"), "part B")
    assert (last.joins, last.makes, last.cut, last.length) == (
        ("part A", "part B"), "the top", "across", 24 * INCH,
    )  # fmt: skip
    assert first.words == "Sew 01F and 02F from left to right: part A. Press to one side."


def test_several_seams_in_one_direction_are_one_step() -> None:
    (step,) = sewing_order(grid(4, 1), FOUR)
    assert step.joins == ("01", "02", "03", "04")


def test_with_sashing_a_strip_goes_in_each_seam() -> None:
    step = sewing_order(grid(2, 1, sashing=Sashing(2 * INCH)), FOUR)[0]
    assert step.words.startswith("Sew 01F and 02F from left to right, with a strip between: the top.")
    assert step.length == 14 * INCH


def test_a_seam_between_thick_and_thin_is_pressed_open() -> None:
    step = sewing_order(grid(4, 1), with_thick("01"))[0]
    assert step.open == (0,)
    assert "Press open between 01F and 02F" in step.words
    assert sewing_order(grid(4, 1), with_thick("01", "02", "03", "04"))[0].open == ()
    assert sewing_order(grid(2, 1), with_thick("02"))[0].words.endswith("Press open: thick meets thin.")


def test_a_strip_beside_something_thick_is_pressed_open_on_that_side_too() -> None:
    sashed = grid(4, 1, sashing=Sashing(2 * INCH, outer=False))
    assert sewing_order(sashed, with_thick("01", "02"))[0].open == (0, 1)


def test_seams_of_rows_are_pressed_open_only_where_thick_meets_thin() -> None:
    assert sewing_order(grid(2, 2), with_thick("01"))[-1].open == (0,)
    assert sewing_order(grid(2, 2), with_thick("01", "03"))[-1].open == ()


def test_a_composite_is_sewn_before_the_blocks_are() -> None:
    halves = (
        Cell("01a", Rect(0, 0, 12 * INCH, 7 * INCH)),
        Cell("01b", Rect(0, 7 * INCH, 12 * INCH, 7 * INCH)),
    )
    first, *others = grid(2, 1).quilt.cells
    quilt = replace(grid(2, 1).quilt, cells=(replace(first, piece=None, inside=halves), *others))
    steps = sewing_order(Layout(quilt), FOUR)
    assert [(step.joins, step.makes) for step in steps] == [
        (("01a", "01b"), "block 01"),
        (("01", "02"), "the top"),
    ]


def test_a_single_block_needs_no_seam() -> None:
    assert sewing_order(grid(1, 1), FOUR) == ()


def test_what_straight_seams_cannot_join_is_refused() -> None:
    places = [(0, 0, 2, 1), (2, 0, 1, 2), (1, 2, 2, 1), (0, 1, 1, 2), (1, 1, 1, 1)]
    cells = tuple(Cell(f"{n}", Rect(*(INCH * each for each in place))) for n, place in enumerate(places))
    with pytest.raises(BadInput) as fault:
        sewing_order(Layout(Quilt(Size(3 * INCH, 3 * INCH), cells)), FOUR)
    assert fault.value.field == "layout"


@settings(max_examples=8, deadline=None)
@given(seed=st.integers(0, 1000), sashing=st.sampled_from([None, Sashing(INCH)]))
def test_every_step_joins_parts_with_equal_edges_that_are_there_by_then(
    seed: int, sashing: Sashing | None
) -> None:
    bag = random_bag(9, seed)
    wish = wish_for(42, 48, tolerance=3 * INCH, sashings=(sashing,))
    layout = mixed_layout(bag, wish, module=3 * INCH, limit=Limit(effort=10))
    if not isinstance(layout, Layout):
        return
    there = {cell.id: cell.at for cell in layout.quilt.cells}
    gap = sashing.width if sashing else 0
    for step in sewing_order(layout, bag):
        parts = [there.pop(name) for name in step.joins]
        made = parts[0]
        for part in parts[1:]:
            if step.cut == "down":
                assert (part.x, part.y, part.height) == (made.right + gap, made.y, made.height)
                made = Rect(made.x, made.y, part.right - made.x, made.height)
            else:
                assert (part.y, part.x, part.width) == (made.bottom + gap, made.x, made.width)
                made = Rect(made.x, made.y, made.width, part.bottom - made.y)
        assert step.length == (made.height if step.cut == "down" else made.width)
        there[step.makes] = made
    assert list(there) == ["the top"] if len(layout.quilt.cells) > 1 else True
