"""Even grids: every count of columns and rows of every block, sashing and border she may choose.

All of them are looked at, so the best is the best of its kind.
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.problems import Problem
from planner.quilt import Bag

from .blocks import Grid
from .choice import MOST_FILLERS, Pool
from .filling import Filled, Filler
from .nearest import cut_larger, nearest_counts, nearest_size, why_none
from .options import GridAnswer, Wish

MOST_BLOCKS = 2000
SCOPE = "all even grids of these blocks, sashings and borders"


def grid_options(bag: Bag, wish: Wish, *, most: int = 12, unit: str = "in") -> GridAnswer:
    """Return the even grids that come within the wish's tolerance, the best first, at most `most`.

    No garment goes without a block; small prints share blocks where there are too few. Spare blocks
    take second panels, then composites of small prints, then plain filler, then a feature block.
    Where no grid fits, say why, and which numbers of blocks or which size would. Grids of more than
    2,000 blocks are not looked at. `unit`, in or cm, is what sentences are told in.
    """
    wanted = tuple(piece for piece in bag.pieces if piece.wanted != "out")
    if not wanted:
        nothing = Problem("There is no piece to lay out.", change="Log at least one shirt and its print.")
        return GridAnswer((), (nothing,))
    pool = Pool.of(wanted)
    filler = Filler(bag, wish, pool, unit)
    grids = tuple(grids_near(wish))
    judged = _best(filler, grids, most)
    if not judged:
        return _none(wish, filler, grids, unit)
    best = judged[0].cost
    return GridAnswer(tuple(filler.layout(each, bound=best, scope=SCOPE) for each in judged))


def _best(filler: Filler, grids: tuple[Grid, ...], most: int) -> list[Filled]:
    """Fill the grids nearest in size first, until the size error alone is more than enough others cost."""
    best: list[Filled] = []
    by_error = sorted(((filler.error(grid), number) for number, grid in enumerate(grids)))
    for error, number in by_error:
        if len(best) == most and error > best[-1].cost:
            break
        filled = filler.fill(grids[number])
        if filled is not None:
            best = sorted([*best, filled], key=_best_first)[:most]
    return best


def _none(wish: Wish, filler: Filler, grids: tuple[Grid, ...], unit: str) -> GridAnswer:
    least = len(filler.pool.base)
    stuck = [filler.without_room(block) for block in wish.blocks]
    if all(stuck):
        return GridAnswer((), tuple(cut_larger(piece) for piece in stuck[0]))
    counts = nearest_counts(least, {grid.cells for grid in grids}, MOST_FILLERS)
    return GridAnswer(
        (), (why_none(wish, least, counts, nearest_size(wish, least, MOST_FILLERS), unit=unit),), counts
    )


def grids_near(wish: Wish) -> Iterator[Grid]:
    """Yield every grid whose finished size is within the tolerance in both directions."""
    for block in sorted(set(wish.blocks)):
        for sashing in wish.sashings:
            for border in wish.borders:
                yield from _counts_near(wish, Grid(1, 1, block, sashing, border))


def _counts_near(wish: Wish, one: Grid) -> Iterator[Grid]:
    gap = one.sashing.width if one.sashing else 0
    across = _near(wish.target.width, one.size.width, one.block.width + gap, wish.tolerance)
    down = _near(wish.target.height, one.size.height, one.block.height + gap, wish.tolerance)
    for columns in across[:MOST_BLOCKS]:
        for rows in range(down.start, min(down.stop, MOST_BLOCKS // columns + 1)):
            yield Grid(columns, rows, one.block, one.sashing, one.border)


def _near(target: int, first: int, step: int, tolerance: int) -> range:
    """The counts whose length `first + (count - 1) · step` lies within `tolerance` of `target`."""
    least = max(1, 1 - (first - (target - tolerance)) // step)
    most = 1 + (target + tolerance - first) // step
    return range(least, most + 1)


def _best_first(filled: Filled) -> tuple[int, ...]:
    """Order by cost; equals by what they are, so that the order they were offered in plays no part."""
    grid = filled.grid
    sashing, border = grid.sashing, grid.border
    strips = (sashing.width, sashing.outer, sashing.cornerstones) if sashing else (0, 0, 0)
    rings = (
        (border.widths.top, border.widths.right, border.widths.bottom, border.widths.left) if border else ()
    )
    return (
        filled.cost,
        grid.columns,
        grid.rows,
        grid.block.width,
        grid.block.height,
        *map(int, strips),
        *rings,
    )
