"""The independent look at a layout finds each kind of fault."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from planner.layout import Layout, LeftOut, check_layout, grid_quilt
from planner.quilt import Bag, Cell, Garment, Piece, Quilt
from planner.units import INCH, Rect, Sides, Size

BLOCK = Size(12 * INCH, 12 * INCH)


def piece(id: str, **change: object) -> Piece:
    side = "front" if id.endswith("F") else "back"
    plain = Piece(
        id, id[:2], side, Size(10 * INCH, 10 * INCH), Sides.all_round(3 * INCH), "plastisol", "must"
    )
    return replace(plain, **change)


BAG = Bag(
    tuple(Garment(f"{number:02d}", "tee", {"cotton": 100}) for number in range(1, 5)),
    (piece("01F"), piece("02F"), piece("03F"), piece("04F"), piece("04B", wanted="may")),
)
SOUND = Layout(
    grid_quilt(2, 2, BLOCK, pieces=["01F", "02F", "03F", "04F"]), (LeftOut("04B", "Its front is kept."),)
)


def with_cells(*pieces: str | None) -> Layout:
    return replace(SOUND, quilt=grid_quilt(2, 2, BLOCK, pieces=pieces))


def with_piece(id: str, **change: object) -> Bag:
    return replace(BAG, pieces=tuple(replace(p, **change) if p.id == id else p for p in BAG.pieces))


def turned_sideways() -> Layout:
    cells = tuple(replace(cell, turn=90) if cell.piece == "01F" else cell for cell in SOUND.quilt.cells)
    return replace(SOUND, quilt=replace(SOUND.quilt, cells=cells))


def pinwheel() -> Layout:
    places = [(0, 0, 2, 1), (2, 0, 1, 2), (1, 2, 2, 1), (0, 1, 1, 2), (1, 1, 1, 1)]
    ids = ["01F", "02F", "03F", "04F", None]
    cells = tuple(
        Cell(f"c{number}", Rect(*(12 * INCH * each for each in place)), piece=id)
        for number, (place, id) in enumerate(zip(places, ids, strict=True))
    )
    return replace(SOUND, quilt=Quilt(Size(36 * INCH, 36 * INCH), cells))


def with_a_hole() -> Layout:
    cells = tuple(cell for cell in SOUND.quilt.cells if cell.piece != "02F")
    return replace(SOUND, quilt=Quilt(SOUND.quilt.size, cells))


def composite_with_a_gap() -> Layout:
    first = SOUND.quilt.cells[0]
    half = Rect(first.at.x, first.at.y, 12 * INCH, 6 * INCH)
    holed = Cell("c", first.at, inside=(Cell("c1", half, piece="01F"),))
    return replace(SOUND, quilt=replace(SOUND.quilt, cells=(holed, *SOUND.quilt.cells[1:])))


def test_a_sound_layout_has_no_problem() -> None:
    assert check_layout(SOUND, BAG) == ()


@pytest.mark.parametrize(
    ("layout", "bag", "words"),
    [
        (lambda: with_cells("01F", "02F", "03F", "03F"), BAG, "Piece 03F has 2 blocks."),
        (lambda: with_cells("01F", "02F", "03F"), BAG, "Piece 04F has no block and no reason why."),
        (lambda: with_cells("01F", "02F", "03F", "99F"), BAG, "Piece 99F is not in the bag."),
        (lambda: SOUND, with_piece("02F", wanted="out"), "Piece 02F was to be left out."),
        (lambda: replace(SOUND, left_out=()), BAG, "Piece 04B has no block and no reason why."),
        (
            lambda: replace(with_cells("01F", "02F", "03F", "04B"), left_out=(LeftOut("04F", "x"),)),
            BAG,
            "Piece 04F must be in the quilt.",
        ),
        (
            lambda: replace(SOUND, left_out=(*SOUND.left_out, LeftOut("01F", "x"))),
            BAG,
            "Piece 01F is in the quilt and also named as left out.",
        ),
        (
            lambda: SOUND,
            with_piece("01F", free=Sides.all_round(INCH)),
            "Piece 01F has not the cloth for its block.",
        ),
        (
            turned_sideways,
            with_piece("01F", print_size=Size(13 * INCH, 10 * INCH)),
            "Piece 01F would lose part of its print.",
        ),
        (
            lambda: SOUND,
            with_piece("01F", cut=Size(13 * INCH, 12 * INCH)),
            "Piece 01F is already cut to another size.",
        ),
        (pinwheel, BAG, "These blocks turn round one another: no straight seam runs through them."),
        (with_a_hole, BAG, "Blocks and sashing leave part of the top bare, or cover it twice."),
        (composite_with_a_gap, BAG, "The composite c has a gap."),
    ],
)
def test_each_fault_is_found_and_named(layout: Callable[[], Layout], bag: Bag, words: str) -> None:
    assert words in [problem.what for problem in check_layout(layout(), bag)]


def test_a_piece_on_its_side_needs_its_cloth_sideways() -> None:
    wide = with_piece(
        "01F", print_size=Size(10 * INCH, 5 * INCH), free=Sides(3 * INCH, 4 * INCH, 3 * INCH, 4 * INCH)
    )
    faults = check_layout(SOUND, wide)
    assert [fault.what for fault in faults] == ["Piece 01F has not the cloth for its block."]
