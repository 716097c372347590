"""Even grids of blocks, with sashing and borders round them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from planner.problems import BadInput
from planner.quilt import Binding, Border, Cell, Quilt, Role, Sashing
from planner.units import Rect, Sides, Size


def grid_size(
    columns: int,
    rows: int,
    block: Size,
    *,
    sashing: Sashing | None = None,
    borders: tuple[Border, ...] = (),
) -> Size:
    """Return the finished size of an even grid.

    Width = columns · block + the strips between + outer strips + borders, height likewise (trade
    handbook 3.2).
    """
    gap = sashing.width if sashing else 0
    strips = 1 if sashing and sashing.outer else -1
    sides = [border.widths for border in borders]
    return Size(
        columns * block.width + (columns + strips) * gap + sum(each.left + each.right for each in sides),
        rows * block.height + (rows + strips) * gap + sum(each.top + each.bottom for each in sides),
    )


@dataclass(frozen=True)
class Grid:
    """One even grid: how many blocks of what size, and the strips round them."""

    columns: int
    rows: int
    block: Size
    sashing: Sashing | None
    border: Border | None

    @property
    def cells(self) -> int:
        """How many blocks it has."""
        return self.columns * self.rows

    @cached_property
    def size(self) -> Size:
        """Its finished size."""
        return grid_size(self.columns, self.rows, self.block, sashing=self.sashing, borders=self.borders)

    @property
    def borders(self) -> tuple[Border, ...]:
        """Its border, or none."""
        return (self.border,) if self.border else ()


def grid_quilt(
    columns: int,
    rows: int,
    block: Size,
    *,
    pieces: Sequence[str | None] = (),
    frames: Mapping[str, Sides] | None = None,
    sashing: Sashing | None = None,
    borders: tuple[Border, ...] = (),
    binding: Binding | None = None,
    cloth: Mapping[Role, str] | None = None,
) -> Quilt:
    """Return a quilt of equal finished blocks, filled row by row with `pieces`, then fillers."""
    if columns < 1 or rows < 1 or len(pieces) > columns * rows:
        raise BadInput("pieces", f"{columns} × {rows} blocks do not hold {len(pieces)} pieces.")
    gap = sashing.width if sashing else 0
    outer = gap if sashing and sashing.outer else 0
    left = outer + sum(border.widths.left for border in borders)
    top = outer + sum(border.widths.top for border in borders)
    cells = []
    for number in range(columns * rows):
        row, column = divmod(number, columns)
        x, y = left + column * (block.width + gap), top + row * (block.height + gap)
        piece = pieces[number] if number < len(pieces) else None
        frame = (frames or {}).get(piece, Sides()) if piece else Sides()
        at = Rect(x, y, block.width, block.height)
        cells.append(Cell(f"{number + 1:02d}", at, piece=piece, frame=frame))
    return Quilt(
        size=grid_size(columns, rows, block, sashing=sashing, borders=borders),
        cells=tuple(cells),
        sashing=sashing,
        borders=borders,
        binding=binding,
        cloth=cloth or {},
    )


def without_cornerstones(sashing: Sashing | None) -> Sashing | None:
    """Return the sashing for blocks that stand in no grid: strips meet in no even crossings there."""
    return replace(sashing, cornerstones=False) if sashing else None
