"""Strips between blocks and the small squares where they meet, read off the places of the blocks."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from planner.problems import BadInput
from planner.quilt import Cell, Quilt
from planner.units import Size

from .allowances import Allowances
from .cloth import CutPiece, Item, Ribbon, pieces_of_one_size
from .seam_strips import sashing_along_seams

UNEVEN = (
    "the blocks do not stand in rows and columns one sashing width apart, so there is no even crossing "
    "for a cornerstone; leave the cornerstones out, or move the blocks into a grid."
)


@dataclass(frozen=True)
class _Grid:
    """Finished column widths and row heights, left to right and top to bottom."""

    columns: tuple[int, ...]
    rows: tuple[int, ...]


def sashing_strips(quilt: Quilt, allowances: Allowances) -> tuple[Item, ...]:
    """Return the sashing at cut size.

    With cornerstones every strip is a block side long: all round (c+1)·r upright and (r+1)·c level
    (trade handbook 3.2). Without, short uprights stand between the blocks of a row, one long strip
    lies across each seam between rows, and outer sashing adds one above, one below, and then one
    down each side (common practice). Between blocks of many sizes one strip lies along each seam.
    """
    if quilt.sashing is None:
        return ()
    grid = _grid(quilt.cells, quilt.sashing.width)
    if grid is None:
        return sashing_along_seams(quilt, allowances)
    if quilt.sashing.cornerstones:
        return _between_cornerstones(quilt, grid)
    return _short_uprights(quilt, grid) + _long_strips(quilt, grid, allowances)


def cornerstones(quilt: Quilt) -> tuple[CutPiece, ...]:
    """Return the squares where sashing meets: all round (c+1)·(r+1), between blocks (c−1)·(r−1)."""
    if quilt.sashing is None or not quilt.sashing.cornerstones:
        return ()
    grid = _grid(quilt.cells, quilt.sashing.width)
    if grid is None:
        raise BadInput("quilt.sashing", UNEVEN)
    count = _seams(quilt, grid.columns) * _seams(quilt, grid.rows)
    side = Size(quilt.sashing.width, quilt.sashing.width).grown(2 * quilt.seam)
    return pieces_of_one_size("cornerstone", [side] * count)


def _between_cornerstones(quilt: Quilt, grid: _Grid) -> tuple[CutPiece, ...]:
    upright = [_strip(quilt, row) for row in grid.rows] * _seams(quilt, grid.columns)
    level = [_strip(quilt, column) for column in grid.columns] * _seams(quilt, grid.rows)
    return pieces_of_one_size("sashing", level, upright=upright)


def _short_uprights(quilt: Quilt, grid: _Grid) -> tuple[CutPiece, ...]:
    between = [_strip(quilt, row) for row in grid.rows] * (len(grid.columns) - 1)
    return pieces_of_one_size("short sashing", (), upright=between)


def _long_strips(quilt: Quilt, grid: _Grid, allowances: Allowances) -> tuple[Ribbon, ...]:
    gap = _width(quilt)
    across = sum(grid.columns) + (len(grid.columns) - 1) * gap
    names = [f"long sashing {number + 1}" for number in range(_seams(quilt, grid.rows))]
    lengths = dict.fromkeys(names, across)
    if quilt.sashing and quilt.sashing.outer:
        lengths |= dict.fromkeys(("side sashing left", "side sashing right"), quilt.field.height)
    return tuple(
        Ribbon(
            name,
            gap + 2 * quilt.seam,
            length + 2 * quilt.seam,
            join=allowances.join,
            least_end=allowances.least_end,
            upright=name.startswith("side"),
        )
        for name, length in lengths.items()
    )


def _strip(quilt: Quilt, side: int) -> Size:
    """Return the cut strip along a block's side, its long side first."""
    return Size(max(side, _width(quilt)), min(side, _width(quilt))).grown(2 * quilt.seam)


def _width(quilt: Quilt) -> int:
    return quilt.sashing.width if quilt.sashing else 0


def _seams(quilt: Quilt, blocks: tuple[int, ...]) -> int:
    """Return how many lines of sashing there are beside that many blocks."""
    return len(blocks) + 1 if quilt.sashing and quilt.sashing.outer else len(blocks) - 1


def _grid(cells: tuple[Cell, ...], gap: int) -> _Grid | None:
    """The columns and rows that the blocks stand in; None when they stand in none."""
    columns = sorted({(cell.at.x, cell.at.width) for cell in cells})
    rows = sorted({(cell.at.y, cell.at.height) for cell in cells})
    complete = len(cells) == len(columns) * len(rows)
    if not (complete and _evenly_spaced(columns, gap) and _evenly_spaced(rows, gap)):
        return None
    return _Grid(tuple(width for _, width in columns), tuple(height for _, height in rows))


def _evenly_spaced(places: list[tuple[int, int]], gap: int) -> bool:
    return all(following - start == size + gap for (start, size), (following, _) in pairwise(places))
