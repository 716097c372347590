"""Which block goes where: colors spread, favorites seen, nothing heavy or tender where it harms.

Places stay, blocks move: so the size, the seams and what is left out remain as they were.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

import numpy as np

from planner.problems import Impossible, Limit
from planner.quilt import Bag, Cell
from planner.units import Rect, Sides

from ..options import Arrangement, Layout
from .assign import chains_for
from .board import Board, Wishes
from .moods import seating_for
from .pins import neighbor_contradictions, open_places, pinned_places, seated
from .reasons import reasons_for, told_of
from .tabu import Found, search
from .terms import Array

SHAKES = 4


def arrange(
    layout: Layout,
    bag: Bag,
    *,
    keep: Mapping[str, str],
    together: Sequence[tuple[str, str]] = (),
    apart: Sequence[tuple[str, str]] = (),
    mood: str = "calm",
    favorites: Collection[str] = (),
    teams: Sequence[Collection[str]] = (),
    tuck: Sides = Sides(),
    limit: Limit,
    seed: int = 0,
) -> Arrangement | Impossible:
    """Return the layout with its blocks in the best places found, and in sentences why they lie so.

    `keep` pins: a piece (or the id of a block without one) to the place of a block. `together` and
    `apart` are pairs of pieces; `mood` is calm, lively or story; `tuck` is how far in from each edge
    the quilt is tucked away. The first start is the layout as it stands, so it never gets worse,
    unless a pin moves a block. Cost in points; one step of effort is one swap of one chain; `watch`
    hears of each better Arrangement.
    """
    liked = frozenset(favorites)
    wishes = Wishes(tuple(together), tuple(apart), liked, tuple(teams), tuck=tuck, mood=mood)
    board = Board(layout.quilt, bag)
    allowed = open_places(board, layout)
    open_ = pinned_places(board, keep, allowed)
    if isinstance(open_, Impossible):
        return open_
    start = seated(board, open_, allowed)
    problems = neighbor_contradictions(board, wishes, open_)
    if isinstance(start, Impossible) or problems:
        return Impossible((*problems, *(start.problems if isinstance(start, Impossible) else ())))

    def answer(found: Found) -> Arrangement:
        reasons = reasons_for(board, wishes, found, pinned=sorted(keep))
        return Arrangement(_moved(layout, board, found.places), int(found.cost), found.agree, reasons)

    watch = limit.watch
    tell = None if watch is None else lambda found: watch(answer(found))
    starts = _starts(start, open_, np.random.default_rng(seed))
    seating = seating_for(board, wishes, open_)
    return answer(search(seating, starts=starts, limit=limit, seed=seed, tell=tell))


def why(
    layout: Layout,
    bag: Bag,
    *,
    keep: Mapping[str, str],
    together: Sequence[tuple[str, str]] = (),
    apart: Sequence[tuple[str, str]] = (),
    mood: str = "calm",
    favorites: Collection[str] = (),
    teams: Sequence[Collection[str]] = (),
    tuck: Sides = Sides(),
) -> tuple[str, ...]:
    """Return in sentences how a layout lies as it stands, by the rules that `arrange` goes by."""
    board = Board(layout.quilt, bag)
    liked = frozenset(favorites)
    wishes = Wishes(tuple(together), tuple(apart), liked, tuple(teams), tuck=tuck, mood=mood)
    return told_of(board, wishes, board.standing, pinned=sorted(keep)) if any(board.pieces) else ()


def _starts(start: tuple[int, ...], open_: Array, rng: np.random.Generator) -> Array:
    """The blocks as they stand, then shaken well: each start of its own, none against a pin or a size."""
    starts = [np.array(start) for _ in range(chains_for(len(start)))]
    for places in starts[1:]:
        for u, v in rng.integers(0, len(start), size=(SHAKES * len(start), 2)):
            if open_[u, places[v]] and open_[v, places[u]]:
                places[u], places[v] = places[v], places[u]
    return np.array(starts)


def _moved(layout: Layout, board: Board, places: tuple[int, ...]) -> Layout:
    """The layout with each block at its place; ids, frames and turns go with the blocks."""
    at = {block.id: board.places[k] for block, k in zip(board.blocks, places, strict=True)}
    cells = tuple(_put(cell, at[cell.id]) for cell in layout.quilt.cells)
    moved = replace(layout, quilt=replace(layout.quilt, cells=cells))
    if all(old.at.size == new.at.size for old, new in zip(layout.quilt.cells, cells, strict=True)):
        return moved
    # What was proved is of the sizes that each piece was given by the layout.
    return replace(moved, proved=False, scope="blocks of unlike size traded places since")


def _put(cell: Cell, at: Rect) -> Cell:
    if cell.at == at:
        return cell
    inside = tuple(_shifted(each, at.x - cell.at.x, at.y - cell.at.y) for each in cell.inside)
    return replace(cell, at=at, inside=inside)


def _shifted(cell: Cell, across: int, down: int) -> Cell:
    at = replace(cell.at, x=cell.at.x + across, y=cell.at.y + down)
    return replace(cell, at=at, inside=tuple(_shifted(each, across, down) for each in cell.inside))
