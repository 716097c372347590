"""Even grids of blocks, with sashing and borders round them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from planner.quilt import Binding, Border, Cell, Quilt, Role, Sashing
from planner.units import Rect, Sides, Size


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
    """Return a quilt of equal finished blocks, filled row by row with `pieces`, then fillers.

    Finished width = columns · block + strips between + outer strips + borders, height likewise
    (trade handbook 3.2).
    """
    gap = sashing.width if sashing else 0
    outer = gap if sashing and sashing.outer else 0
    left = outer + sum(border.widths.left for border in borders)
    top = outer + sum(border.widths.top for border in borders)
    cells = []
    for number in range(columns * rows):
        row, column = divmod(number, columns)
        piece = pieces[number] if number < len(pieces) else None
        at = Rect(left + column * (block.width + gap), top + row * (block.height + gap), block.width, block.height)
        frame = (frames or {}).get(piece, Sides()) if piece else Sides()
        cells.append(Cell(f"{number + 1:02d}", at, piece=piece, frame=frame))
    return Quilt(
        size=_size(columns, rows, block, gap, outer, borders),
        cells=tuple(cells),
        sashing=sashing,
        borders=borders,
        binding=binding,
        cloth=cloth or {},
    )


def _size(columns: int, rows: int, block: Size, gap: int, outer: int, borders: tuple[Border, ...]) -> Size:
    width = columns * block.width + (columns - 1) * gap + 2 * outer
    height = rows * block.height + (rows - 1) * gap + 2 * outer
    width += sum(border.widths.left + border.widths.right for border in borders)
    height += sum(border.widths.top + border.widths.bottom for border in borders)
    return Size(width, height)
