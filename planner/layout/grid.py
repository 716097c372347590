"""Even grids: every count of columns and rows of every block, sashing and border she may choose.

All of them are looked at, so the best is the best of its kind; the cost is told in ticks of size
error, other faults being worth so many inches (the weights are our own judgment).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from statistics import median_low

from planner.problems import Problem
from planner.quilt import Bag, Border, Piece, Sashing
from planner.units import INCH, Size

from .blocks import grid_quilt, grid_size
from .choice import Choice, base_count, choose_pieces
from .fit import fit
from .nearest import nearest_counts, why_none
from .notes import notes_of
from .options import GridAnswer, Layout, Wish
from .window import Window, keep

MOST_FILLERS = 4
MOST_BLOCKS = 2000
SEAM = INCH // 4
SCOPE = "all even grids of these blocks, sashings and borders"

COST_NO_FIT = 3 * INCH
COST_STRIPS = INCH // 2
COST_FILLER = 4 * INCH
COST_SECOND_SIDE = INCH // 2
COST_LARGE_BLOCK = 6 * INCH
BLOCK_TO_PRINT = 12, 5


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

    @property
    def size(self) -> Size:
        """Its finished size."""
        return grid_size(self.columns, self.rows, self.block, sashing=self.sashing, borders=self.borders)

    @property
    def borders(self) -> tuple[Border, ...]:
        """Its border, or none."""
        return (self.border,) if self.border else ()


def grid_options(bag: Bag, wish: Wish, *, most: int = 12, unit: str = "in") -> GridAnswer:
    """Return the even grids that come within the wish's tolerance, the best first, at most `most`.

    No garment goes without a block; spare blocks take second sides, then plain filler. Where no
    grid fits, say why and which numbers of blocks would. Grids of more than 2,000 blocks are not
    looked at. `unit`, in or cm, is what sentences are told in.
    """
    wanted = [piece for piece in bag.pieces if piece.wanted != "out"]
    if not wanted:
        nothing = Problem("There is no piece to lay out.", change="Log at least one shirt and its print.")
        return GridAnswer((), (nothing,))
    least = base_count(wanted)
    grids = tuple(grids_near(wish))
    fitting = [grid for grid in grids if least <= grid.cells <= max(len(wanted), least + MOST_FILLERS)]
    if not fitting:
        counts = nearest_counts(least, {grid.cells for grid in grids}, MOST_FILLERS)
        return GridAnswer((), (why_none(wish, least, counts, unit=unit),), counts)
    judged = sorted(((_cost(grid, wanted, wish), grid) for grid in fitting), key=_best_first)
    best = judged[0][0]
    return GridAnswer(
        tuple(
            replace(_layout(grid, bag, wish, unit=unit), cost=cost, bound=best, proved=cost == best)
            for cost, grid in judged[:most]
        )
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


def _best_first(judged: tuple[int, Grid]) -> tuple[int, ...]:
    """Order by cost; equals by what they are, so that the order they were offered in plays no part."""
    cost, grid = judged
    sashing, border = grid.sashing, grid.border
    strips = (sashing.width, sashing.outer, sashing.cornerstones) if sashing else (0, 0, 0)
    rings = (
        (border.widths.top, border.widths.right, border.widths.bottom, border.widths.left) if border else ()
    )
    return (cost, grid.columns, grid.rows, grid.block.width, grid.block.height, *map(int, strips), *rings)


def _cost(grid: Grid, wanted: list[Piece], wish: Wish) -> int:
    choice = choose_pieces(wanted, grid.cells)
    size, target = grid.size, wish.target
    error = abs(size.width - target.width) + abs(size.height - target.height)
    misfits = sum(_misfit(piece, grid.block, wish) for piece in choice.pieces)
    spare = choice.fillers * COST_FILLER + choice.second_sides * COST_SECOND_SIDE
    return error + misfits + spare + _swallows_its_prints(grid.block, choice)


def _misfit(piece: Piece, block: Size, wish: Wish) -> int:
    answer = fit(piece, block, margin=wish.margin)
    if answer.ok:
        return 0
    first = answer.remedies[0].kind if answer.remedies else "none"
    return COST_STRIPS if first == "frame" else COST_NO_FIT


def _swallows_its_prints(block: Size, choice: Choice) -> int:
    """A block far larger than the middle print leaves the prints lost in cloth."""
    areas = [piece.print_size.area for piece in choice.pieces if piece.print_size.area]
    if not areas:
        return 0
    middle, (times, of) = median_low(areas), BLOCK_TO_PRINT
    over = of * block.area - times * middle
    return max(0, COST_LARGE_BLOCK * over // (of * middle))


def _layout(grid: Grid, bag: Bag, wish: Wish, *, unit: str) -> Layout:
    choice = choose_pieces([piece for piece in bag.pieces if piece.wanted != "out"], grid.cells)
    kept = ((piece, keep(piece, grid.block, seam=SEAM)) for piece in choice.pieces)
    windows: dict[str, Window] = {piece.id: window for piece, window in kept if window is not None}
    pieces = [piece for piece in choice.pieces if piece.id in windows]
    quilt = grid_quilt(
        grid.columns,
        grid.rows,
        grid.block,
        pieces=[piece.id for piece in pieces],
        frames={id: window.frame for id, window in windows.items()},
        sashing=grid.sashing,
        borders=grid.borders,
        binding=wish.binding,
        cloth=wish.cloth,
    )
    return Layout(
        quilt=quilt,
        left_out=choice.left_out(bag, windows),
        notes=notes_of(pieces, grid.block, wish, unit=unit),
        scope=SCOPE,
        cropped=tuple(piece.id for piece in pieces if windows[piece.id].loses_print(piece)),
    )
