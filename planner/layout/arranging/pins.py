"""Which block may take which place: by its size, and by what is pinned."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from planner.problems import BadInput, Impossible, Problem
from planner.quilt import Cell
from planner.units import INCH, Size

from ..fit import fit
from ..options import Layout
from .board import Board, Wishes
from .places import touching
from .terms import Array

MARGIN = INCH // 2  # what a print keeps round it when its block takes a place of another size


def open_places(board: Board, layout: Layout) -> Array:
    """Say which block may take which place: one of its own size, or one where its print sits whole.

    A composite, a framed or cropped piece and one that is already cut keep to their own size.
    """
    sizes = [at.size for at in board.places]
    return np.array(
        [[_may_fill(board, number, layout, size) for size in sizes] for number in range(len(board.blocks))]
    )


def pinned_places(board: Board, keep: Mapping[str, str], allowed: Array) -> Array | Impossible:
    """Return the places open to each block once the pins are in, or which two pins contradict each other.

    A pin names a piece, or a block without one, and the block whose place it is to have.
    """
    at = {block.id: board.standing[number] for number, block in enumerate(board.blocks)}
    pinned: dict[int, int] = {}
    problems = []
    for name in sorted(keep):
        if keep[name] not in at:
            raise BadInput("keep", f"no block “{keep[name]}” is in the layout.")
        block, place = board.number_of(name, "keep"), at[keep[name]]
        problems += _contradictions(board, pinned, block, place)
        if not allowed[block, place]:
            problems.append(_does_not_fit(board, block, keep[name]))
        pinned[block] = place
    if problems:
        return Impossible(tuple(problems))
    open_ = allowed.copy()
    for block, place in pinned.items():
        open_[block, :] = open_[:, place] = False
        open_[block, place] = True
    return open_


def seated(board: Board, open_: Array, allowed: Array) -> tuple[int, ...] | Impossible:
    """Return places for all blocks, near how they stand; or the two that want the one place there is."""
    taken: dict[int, int] = {}
    wanted = [[board.standing[n], *(int(k) for k in np.flatnonzero(row))] for n, row in enumerate(open_)]
    rows = [[k for k in row if open_[n, k]] for n, row in enumerate(wanted)]
    for block in sorted(range(len(rows)), key=lambda n: not open_[n, board.standing[n]]):
        seen: set[int] = set()
        if not _seat(block, rows, taken, seen):
            return Impossible((_no_place_left(board, block, open_, allowed),))
    place_of = {block: place for place, block in taken.items()}
    return tuple(place_of[block] for block in range(len(rows)))


def neighbor_contradictions(board: Board, wishes: Wishes, open_: Array) -> tuple[Problem, ...]:
    """Name the pairs that are wanted both together and apart, or pinned against their wish."""
    apart = {frozenset(pair) for pair in wishes.apart}
    problems = [
        Problem(
            f"{a} and {b} are wanted both side by side and apart.", (a, b), "Take one of the two wishes back."
        )
        for a, b in sorted(map(sorted, wishes.together))
        if frozenset((a, b)) in apart
    ]
    beside, _ = touching(board.grown)
    fixed = {n: int(np.flatnonzero(row)[0]) for n, row in enumerate(open_) if row.sum() == 1}
    for within, side_by_side, pairs in (("together", True, wishes.together), ("apart", False, wishes.apart)):
        for a, b in sorted(map(sorted, pairs)):
            one, other = board.number_of(a, within), board.number_of(b, within)
            both = one in fixed and other in fixed and one != other
            if both and bool(beside[fixed[one], fixed[other]]) != side_by_side:
                words = "side by side" if side_by_side else "apart"
                what = f"{a} and {b} are wanted {words}, but both are pinned where they are not."
                problems.append(Problem(what, (a, b), "Unpin one of them."))
    return tuple(problems)


def _may_fill(board: Board, number: int, layout: Layout, size: Size) -> bool:
    block, pieces = board.blocks[number], board.pieces[number]
    if block.at.size == size:
        return True
    if block.is_filler:
        return True
    if block.piece is None or block.frame or pieces[0].cut is not None or block.piece in layout.cropped:
        return False
    return fit(pieces[0], _upright(block, size), margin=MARGIN, seam=layout.quilt.seam).ok


def _upright(block: Cell, size: Size) -> Size:
    return size if block.turn in (0, 180) else Size(size.height, size.width)


def _contradictions(board: Board, pinned: Mapping[int, int], block: int, place: int) -> list[Problem]:
    for other, taken in pinned.items():
        a, b = board.names([other])[0], board.names([block])[0]
        if other != block and taken == place:
            return [Problem(f"{a} and {b} are pinned to the same place.", (a, b), "Unpin one of them.")]
        if other == block and taken != place:
            inside = [piece.id for piece in board.pieces[block]]
            what = f"{' and '.join(inside[:2])} share a block, but are pinned to two places."
            return [Problem(what, tuple(inside[:2]), "Unpin one of them.")]
    return []


def _does_not_fit(board: Board, block: int, cell: str) -> Problem:
    name = board.names([block])[0]
    holder = next(n for n, each in enumerate(board.blocks) if each.id == cell)
    other = board.names([holder])[0]
    what = f"{name} is pinned to the place of {other}, which has another size."
    return Problem(what, (name, other), "Pin it to a block as large as its own, or unpin it.")


def _no_place_left(board: Board, block: int, open_: Array, allowed: Array) -> Problem:
    """The block without a place, and a pinned one that has a place it could take."""
    fixed = ((n, int(np.flatnonzero(row)[0])) for n, row in enumerate(open_) if row.sum() == 1)
    holders = sorted(board.names([n for n, place in fixed if n != block and allowed[block, place]]))
    name = board.names([block])[0]
    other = holders[0] if holders else "what is pinned"
    what = f"With {other} where it is pinned, no place is left that {name} fits."
    return Problem(what, (name, *holders[:1]), f"Unpin {other}.")


def _seat(block: int, rows: list[list[int]], taken: dict[int, int], seen: set[int]) -> bool:
    """Give the block a place, letting others move on where they can (augmenting paths)."""
    for place in rows[block]:
        if place in seen:
            continue
        seen.add(place)
        if place not in taken or _seat(taken[place], rows, taken, seen):
            taken[place] = block
            return True
    return False
