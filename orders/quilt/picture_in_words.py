"""The quilt picture said in words, for whoever does not see it."""

from __future__ import annotations

from itertools import groupby

from planner.quilt import Cell, Quilt


def sentence(quilt: Quilt) -> str:
    """Say the picture row by row: which shirt, how it lies, and whether it sits in strips."""
    cells = sorted(quilt.cells, key=lambda cell: (cell.at.y, cell.at.x))
    rows = [", ".join(_said(cell) for cell in row) for _, row in groupby(cells, key=lambda cell: cell.at.y)]
    return f"The quilt picture, {len(cells)} blocks. From the top: {'; '.join(rows)}."


TURNS = {0: "", 90: " on its right side", 180: " upside down", 270: " on its left side"}


def _said(cell: Cell) -> str:
    if cell.inside:
        return f"{' with '.join(_said(each) for each in cell.inside)} in one block"
    if cell.piece is None:
        return "plain cloth"
    return f"{cell.piece}{TURNS[cell.turn]}{' in strips' if cell.frame else ''}"
