"""A grid filled: what it costs, and the quilt it makes.

Costs are ticks of size error; other faults are worth so many inches (the weights are our own judgment).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from statistics import median_low

from planner.quilt import Bag, Cell, Piece, Quilt
from planner.units import INCH, Rect, Size

from .blocks import Grid, grid_quilt, without_cornerstones
from .choice import MOST_FILLERS, Choice, Pool, choose_pieces, with_feature
from .composites import Composer, Part
from .notes import note_of, notes_of
from .options import Layout, Wish
from .window import Window, keep

SEAM = INCH // 4
COST_NO_FIT = 3 * INCH
COST_STRIPS = INCH // 2
COST_FILLER = 4 * INCH
COST_SECOND_SIDE = INCH // 2
COST_COMPOSITE = INCH
COST_FEATURE = 14 * INCH
COST_LARGE_BLOCK = 6 * INCH
BLOCK_TO_PRINT = 12, 5


@dataclass(frozen=True)
class Filled:
    """A grid with what fills it, and its cost."""

    grid: Grid
    choice: Choice
    cost: int


class Filler:
    """Fills grids from one bag; what depends on the block alone is reckoned once."""

    def __init__(self, bag: Bag, wish: Wish, pool: Pool, unit: str) -> None:
        self.bag, self.wish, self.pool, self.unit = bag, wish, pool, unit
        self._choices: dict[tuple[Size, int], Choice | None] = {}
        self._costs: dict[tuple[Size, str], int] = {}
        self._without: dict[Size, tuple[str, ...]] = {}
        self._windows: dict[tuple[str, Size], Window | None] = {}
        self._notes: dict[tuple[str, Size], str] = {}

    def error(self, grid: Grid) -> int:
        """Return how far the size is from the one that is wished."""
        size, target = grid.size, self.wish.target
        return abs(size.width - target.width) + abs(size.height - target.height)

    def fill(self, grid: Grid) -> Filled | None:
        """Return the grid filled, or None where the pieces are too many, too few or too large for it."""
        choice = self._choice(grid)
        if choice is not None and self.without_room(grid.block):
            return None
        if choice is not None and choice.fillers > MOST_FILLERS:
            choice = (
                with_feature(choice, _feature_size(grid), margin=self.wish.margin, seam=SEAM)
                if _has_room(grid)
                else None
            )
        return None if choice is None else Filled(grid, choice, self._cost(grid, choice))

    def layout(self, filled: Filled, *, bound: int, scope: str) -> Layout:
        """Return a filled grid as a layout; `scope` is told of the best alone."""
        quilt = self._quilt(filled)
        placed = {cell.piece for cell in quilt.with_pieces() if cell.piece}
        is_best = filled.cost == bound
        return Layout(
            quilt=quilt,
            left_out=filled.choice.left_out(self.bag, placed),
            notes=notes_of(quilt, self._note),
            cost=filled.cost,
            bound=bound,
            proved=is_best,
            scope=scope if is_best else "",
            cropped=tuple(
                cell.piece for cell in quilt.with_pieces() if cell.piece and self._loses_print(cell)
            ),
        )

    def without_room(self, block: Size) -> tuple[str, ...]:
        """Return the pieces that must be in and have no place in such a block, being cut larger."""
        if block not in self._without:
            cut = (piece for piece in self.pool.base if piece.cut is not None and piece.wanted == "must")
            self._without[block] = tuple(each.id for each in cut if keep(each, block, seam=SEAM) is None)
        return self._without[block]

    def _choice(self, grid: Grid) -> Choice | None:
        key = grid.block, grid.cells
        if key not in self._choices:
            composer = Composer(grid.block, self.wish.margin, SEAM)
            self._choices[key] = choose_pieces(self.pool, grid.cells, composer)
        return self._choices[key]

    def _cost(self, grid: Grid, choice: Choice) -> int:
        misfits = sum(self._misfit(piece, grid.block) for piece in choice.pieces if piece != choice.feature)
        spare = choice.fillers * COST_FILLER + choice.second_sides * COST_SECOND_SIDE
        spare += len(choice.composites) * COST_COMPOSITE + (COST_FEATURE if choice.feature else 0)
        return self.error(grid) + misfits + spare + _swallows_its_prints(grid.block, choice)

    def _misfit(self, piece: Piece, block: Size) -> int:
        key = block, piece.id
        if key not in self._costs:
            window = self._window(piece, block)
            if window is None or window.loses_print(piece):
                self._costs[key] = COST_NO_FIT
            elif window.frame:
                self._costs[key] = COST_STRIPS
            else:
                self._costs[key] = 0 if window.keeps_margin(piece, self.wish.margin) else COST_NO_FIT
        return self._costs[key]

    def _quilt(self, filled: Filled) -> Quilt:
        grid, choice = filled.grid, filled.choice
        plain = grid_quilt(
            grid.columns,
            grid.rows,
            grid.block,
            sashing=without_cornerstones(grid.sashing) if choice.feature else grid.sashing,
            borders=grid.borders,
            binding=self.wish.binding,
            cloth=self.wish.cloth,
        )
        return replace(plain, cells=tuple(self._cells(plain, filled)), finish=self.wish.finish)

    def _cells(self, plain: Quilt, filled: Filled) -> Iterator[Cell]:
        """The blocks in reading order, what fills them by the first of its pieces, plain cloth last."""
        choice, places = filled.choice, [cell.at for cell in plain.cells]
        if choice.feature is not None:
            large = _feature_place(filled.grid, places)
            places = sorted(
                [large, *(at for at in places if not at.overlaps(large))], key=lambda at: (at.y, at.x)
            )
        waiting = self._in_order(filled)
        composer = Composer(filled.grid.block, self.wish.margin, SEAM)
        for number, at in enumerate(places, start=1):
            id = f"{number:02d}"
            if choice.feature is not None and at.size != filled.grid.block:
                yield composer.cells(id, Part(at.size, choice.feature), at)
            else:
                part = waiting.pop(0) if waiting else None
                yield composer.cells(id, part, at) if part else Cell(id, at)

    def _in_order(self, filled: Filled) -> list[Part]:
        block, choice = filled.grid.block, filled.choice
        single = [
            Part(block, piece)
            for piece in choice.pieces
            if piece != choice.feature and self._window(piece, block)
        ]
        return sorted([*single, *choice.composites], key=lambda part: part.first)

    def _window(self, piece: Piece, block: Size) -> Window | None:
        key = piece.id, block
        if key not in self._windows:
            self._windows[key] = keep(piece, block, seam=SEAM)
        return self._windows[key]

    def _note(self, piece: str, block: Size) -> str:
        key = piece, block
        if key not in self._notes:
            self._notes[key] = note_of(self.bag.piece(piece), block, margin=self.wish.margin, unit=self.unit)
        return self._notes[key]

    def _loses_print(self, cell: Cell) -> bool:
        piece = self.bag.piece(cell.piece or "")
        window = self._window(piece, cell.at.size)
        return window is not None and window.loses_print(piece)


def _swallows_its_prints(block: Size, choice: Choice) -> int:
    """A block far larger than the middle print leaves the prints lost in cloth."""
    areas = [piece.print_size.area for piece in choice.pieces if piece.print_size.area]
    if not areas:
        return 0
    middle, (times, of) = median_low(areas), BLOCK_TO_PRINT
    over = of * block.area - times * middle
    return max(0, COST_LARGE_BLOCK * over // (of * middle))


def _has_room(grid: Grid) -> bool:
    return grid.columns > 1 and grid.rows > 1


def _feature_size(grid: Grid) -> Size:
    gap = grid.sashing.width if grid.sashing else 0
    return Size(2 * grid.block.width + gap, 2 * grid.block.height + gap)


def _feature_place(grid: Grid, places: list[Rect]) -> Rect:
    """Four places in the upper middle, where a bed shows them."""
    row, column = min(1, grid.rows - 2), (grid.columns - 2) // 2
    corner, size = places[row * grid.columns + column], _feature_size(grid)
    return Rect(corner.x, corner.y, size.width, size.height)
