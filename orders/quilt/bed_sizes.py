"""What people call a size, and the plain grid that goes with it and with the number of shirts.

Sizes in inches are those of 14 in blocks with 2 in sashing all round (trade handbook 3.9; baby: 8 in
blocks), sizes in centimeters the usual ones of Europe from the same table; all common practice.
"""

from __future__ import annotations

from planner.layout import Wish
from planner.layout.grid import Grid, grids_near
from planner.quilt import Sashing
from planner.units import INCH, MM, Size

_INCHES = (
    ("baby", "Baby, for floor or wall", 42, 52), ("lap", "Lap", 50, 50), ("throw", "Throw", 50, 66),
    ("twin", "Twin", 66, 82), ("twin-xl", "Twin XL, dorm", 66, 98), ("full", "Full", 82, 98),
    ("queen", "Queen", 98, 98), ("king", "King", 114, 98),
)  # fmt: skip
_CENTIMETERS = (
    ("baby", "Baby, for floor or wall", 100, 130), ("lap", "Lap", 125, 125), ("throw", "Throw", 130, 170),
    ("single", "Single", 140, 200), ("double", "Double", 200, 220), ("king", "King", 240, 220),
)  # fmt: skip
USUAL_BLOCK = Size(14 * INCH, 14 * INCH)
SASHING = Sashing(2 * INCH, cornerstones=True)
BLOCKS = tuple(Size(side * INCH, side * INCH) for side in (12, 13, 14, 15, 16))
SMALL_BLOCKS = tuple(Size(side * INCH, side * INCH) for side in (8, 10))
SMALL = 45 * INCH  # a quilt no wider is for small clothes
TOLERANCES = (4 * INCH, 8 * INCH, 16 * INCH)


def bed_sizes(unit: str) -> dict[str, tuple[str, Size]]:
    """Return the words for sizes with their labels and finished sizes, in the shop's habit."""
    rows, one = (_INCHES, INCH) if unit == "in" else (_CENTIMETERS, 10 * MM)
    return {
        word: (f"{label}, {width} × {height} {unit}", Size(width * one, height * one))
        for word, label, width, height in rows
    }


def usual_grid(shirts: int, size: Size | None) -> Grid:
    """Return the plain grid for so many shirts: of the size if one is wanted, else near three to four."""
    return _near_three_to_four(shirts) if size is None else _of_size(shirts, size)


def _near_three_to_four(shirts: int) -> Grid:
    def askew(columns: int) -> tuple[int, int]:
        rows = -(-shirts // columns)
        return abs(3 * rows - 4 * columns) + 2 * (columns * rows - shirts), columns

    columns = min(range(1, shirts + 1), key=askew)
    return Grid(columns, -(-shirts // columns), USUAL_BLOCK, SASHING, None)


def _of_size(shirts: int, size: Size) -> Grid:
    blocks = (SMALL_BLOCKS if size.width <= SMALL else ()) + BLOCKS
    for tolerance in TOLERANCES:
        near = list(grids_near(Wish(size, tolerance=tolerance, blocks=blocks, sashings=(SASHING,))))
        if near:
            return min(near, key=lambda grid: _ill_fitting(grid, shirts, size))
    return _near_three_to_four(shirts)


def _ill_fitting(grid: Grid, shirts: int, size: Size) -> tuple[int, ...]:
    off = abs(grid.size.width - size.width) + abs(grid.size.height - size.height)
    return abs(grid.cells - shirts), off, abs(grid.block.width - USUAL_BLOCK.width), grid.columns
