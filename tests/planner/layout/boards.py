"""Invented bags and even grids for the tests of arranging."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from planner.colour import Palette, Swatch
from planner.layout import Arrangement, Layout, arrange, check_layout, grid_quilt
from planner.problems import Limit
from planner.quilt import Bag, Garment, Piece, Sashing
from planner.units import INCH, Sides, Size

BLUE, RED, GOLD, WHITE, BLACK = (
    (32.0, 10.0, -50.0), (45.0, 65.0, 40.0), (78.0, 10.0, 75.0), (95.0, 0.0, 3.0), (12.0, 0.0, 0.0),
)  # fmt: skip
GRAY = (55.0, 0.0, 0.0)
NINE = (BLUE, BLUE, BLUE, RED, RED, GOLD, WHITE, BLACK, GRAY)
SHORT = Limit(effort=2400)


def front(number: int, lab: tuple[float, float, float] | None = GRAY, **change: object) -> Piece:
    """Return a front of 10 by 10 in print with enough cloth for a block of 14 in."""
    palette = Palette(Swatch(lab)) if lab else None
    size, free = Size(10 * INCH, 10 * INCH), Sides.all_round(5 * INCH)
    facts = {"print_size": size, "free": free, "print_kind": "plastisol", "palette": palette} | change
    return Piece(f"{number:02d}F", f"S{number:02d}", "front", **facts)  # type: ignore[arg-type]


def bag_of(pieces: Sequence[Piece], **flags: Sequence[str]) -> Bag:
    """Return the bag of these pieces; `flags` are those of a garment, by the flag: favorite=["S01"]."""
    garments = [
        Garment(
            piece.garment,
            "tee",
            {"cotton": Decimal(100)},
            flags=frozenset(flag for flag, of in flags.items() if piece.garment in of),
        )
        for piece in pieces
    ]
    return Bag(tuple(garments), tuple(pieces))


def grid_of(bag: Bag, columns: int, rows: int, **more: object) -> Layout:
    """Return an even grid of 14 in blocks, 2 in sashing, filled row by row as the bag lists its pieces."""
    block = Size(14 * INCH, 14 * INCH)
    names = [piece.id for piece in bag.pieces][: columns * rows]
    return Layout(
        grid_quilt(columns, rows, block, pieces=names, sashing=Sashing(2 * INCH), **more)  # type: ignore[arg-type]
    )


def colored(*labs: tuple[float, float, float] | None) -> Bag:
    """Return a bag of one front for each color."""
    return bag_of([front(number, lab) for number, lab in enumerate(labs, start=1)])


def rows_of(layout: Layout) -> list[list[str]]:
    """Return what lies in each row, from the left: pieces, or the ids of blocks without one."""
    rows: dict[int, list[str]] = {}
    for cell in sorted(layout.quilt.cells, key=lambda cell: (cell.at.y, cell.at.x)):
        rows.setdefault(cell.at.y, []).append(cell.piece or cell.id)
    return list(rows.values())


def place_of(layout: Layout, name: str) -> tuple[int, int]:
    """Return the row and the column of a piece."""
    return next((y, row.index(name)) for y, row in enumerate(rows_of(layout)) if name in row)


def arranged(layout: Layout, bag: Bag, **asked: object) -> Arrangement:
    """Return the arrangement of a layout, which is sound and moves no block's place."""
    found = arrange(layout, bag, **({"keep": {}, "limit": SHORT} | asked))  # type: ignore[arg-type]
    assert isinstance(found, Arrangement), found
    assert {cell.at for cell in found.layout.quilt.cells} == {cell.at for cell in layout.quilt.cells}
    assert not check_layout(found.layout, bag)
    return found
