"""What is cut from cloth for a quilt, role by role, at cut size."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from planner.quilt import Cell, Quilt, Role
from planner.units import Size

from .allowances import Allowances
from .binding import bias_square
from .borders import border_strips
from .cloth import CutPiece, Item, Ribbon, pieces_of_one_size
from .finishing import finishing
from .sashing import cornerstones, sashing_strips


def parts(quilt: Quilt, *, allowances: Allowances) -> Mapping[Role, tuple[Item, ...]]:
    """Return the cut sizes of sashing, cornerstones, borders, fillers, frames, binding, sleeve and label.

    Only roles that occur are in the answer; backing, batting and interfacing have their own
    functions. Sashing that cannot be told from the places of the blocks is refused (BadInput). A gap
    inside a composite is nobody's part: give it a filler cell.
    """
    found: dict[Role, tuple[Item, ...]] = {
        "sashing": sashing_strips(quilt, allowances),
        "cornerstone": cornerstones(quilt),
        "border": border_strips(quilt, allowances),
        "filler": fillers(quilt),
        "frame": frames(quilt),
        "binding": binding(quilt, allowances),
        "sleeve": finishing(quilt, allowances),
    }
    return {role: items for role, items in found.items() if items}


def fillers(quilt: Quilt) -> tuple[CutPiece, ...]:
    """Return the plain cells, those of composites included, with a seam on every side."""
    plain = (cell.room.size for cell in _every_cell(quilt.cells) if cell.is_filler)
    return pieces_of_one_size("filler", (size.grown(2 * quilt.seam) for size in plain))


def frames(quilt: Quilt) -> tuple[CutPiece, ...]:
    """Return the strips that bring a small piece to its block: sides first, then top and bottom.

    Finished width = (block − piece) / 2, cut with two seams (trade handbook 3.2).
    """
    strips = [strip for cell in _every_cell(quilt.cells) for strip in _frame_of(cell)]
    return pieces_of_one_size(
        "frame",
        (strip.grown(2 * quilt.seam) for strip, upright in strips if not upright),
        upright=(strip.grown(2 * quilt.seam) for strip, upright in strips if upright),
    )


def binding(quilt: Quilt, allowances: Allowances, *, perimeter: int = 0) -> tuple[Item, ...]:
    """Return the binding: one ribbon as long as the edge and its extra, or a square to cut on the bias.

    `perimeter` is that of the measured top; 0 for the reckoned one.
    """
    if quilt.binding is None:
        return ()
    length, width = (perimeter or quilt.perimeter) + quilt.binding.extra, quilt.binding.cut
    if quilt.binding.bias:
        side = bias_square(length, width)
        return (CutPiece("binding", side, side, 1),)
    return (Ribbon("binding", width, length, join=allowances.join, least_end=allowances.binding_end),)


def _frame_of(cell: Cell) -> Iterator[tuple[Size, bool]]:
    """The strips of one block, the long side across, and whether that side stands upright in the quilt."""
    for width in (cell.frame.left, cell.frame.right):
        if width:
            high = cell.room.height
            yield Size(max(width, high), min(width, high)), high > width
    for height in (cell.frame.top, cell.frame.bottom):
        if height:
            wide = cell.at.width
            yield Size(max(height, wide), min(height, wide)), height > wide


def _every_cell(cells: tuple[Cell, ...]) -> Iterator[Cell]:
    for cell in cells:
        yield cell
        yield from _every_cell(cell.inside)
