"""The order of sewing as steps with pictures: words by the tags, blocks filled, seams as lines."""

from __future__ import annotations

from orders.quilt.sewing_steps import steps_of
from planner.layout import grid_quilt
from planner.quilt import Bag, Cell, Garment, Piece, Quilt, Sashing
from planner.units import INCH, Rect, Sides, Size

BLOCK = Size(12 * INCH, 12 * INCH)


def bag(*thick):
    garments = tuple(
        Garment(f"{n}", "tee", {"cotton": 100}, thickness="thick" if n in thick else "medium")
        for n in range(1, 5)
    )
    pieces = tuple(
        Piece(f"0{n}F", f"{n}", "front", Size(8 * INCH, 8 * INCH), Sides.all_round(4 * INCH))
        for n in range(1, 5)
    )
    return Bag(garments, pieces)


def quilt(**change):
    return grid_quilt(2, 2, BLOCK, pieces=["01F", "02F", "03F", "04F"], **change)


def test_each_step_has_its_words_and_its_picture():
    first, _, last = steps_of(quilt(), bag())
    assert first.words == "Sew 01F and 02F from left to right: part A. Press to one side."
    assert first.picture.count('class="there"') == 4
    assert first.picture.count('class="sewn"') == 2
    assert '<line class="seam" x1="48" y1="0" x2="48" y2="48"/>' in first.picture
    assert '<line class="seam" x1="0" y1="48" x2="96" y2="48"/>' in last.picture
    assert 'aria-label="Sew part A and part B from the top down: the top. Press to one side."' in last.picture


def test_a_seam_that_is_pressed_open_is_dashed_and_said():
    first, second, _ = steps_of(quilt(), bag(1))
    assert (first.opens, second.opens) == (True, False)
    assert 'class="open"' in first.picture


def test_with_sashing_the_line_lies_in_the_middle_of_the_strip():
    first = steps_of(quilt(sashing=Sashing(2 * INCH, outer=False)), bag())[0]
    assert 'x1="52" y1="0" x2="52" y2="48"' in first.picture


def test_what_straight_seams_do_not_join_has_no_steps():
    places = [(0, 0, 2, 1), (2, 0, 1, 2), (1, 2, 2, 1), (0, 1, 1, 2), (1, 1, 1, 1)]
    cells = tuple(Cell(f"{n}", Rect(*(INCH * each for each in place))) for n, place in enumerate(places))
    assert steps_of(Quilt(Size(3 * INCH, 3 * INCH), cells), bag()) == ()
