"""Rules about where a block may lie, each a table of how much a block minds a place.

A table has a row for each block and a column for each place, in the points of the pair rules: TOUCH
is what two blocks of one color side by side cost. The rules are those of the trade handbook 3.11, how
much each counts is our own judgment.
"""

from __future__ import annotations

import numpy as np

from planner.care import heat_limit
from planner.quilt import Piece
from planner.units import Rect, Sides

from .board import Board, Wishes
from .pair_rules import SAME, accents, heavy
from .places import BESIDE, at_the_top, centers, in_corner
from .terms import Array

TOUCH = 2 * BESIDE * SAME
UPPER_MIDDLE = 0.5, 0.4
COOL = 300  # °F: an iron set for wool
FEW_MUSTS = 3  # one in so many


def favorites_in_the_upper_middle(board: Board, wishes: Wishes) -> Array:
    """Favorites lie where a bed or a sofa shows them."""
    x, y = centers(board.places)
    away = np.hypot(x - UPPER_MIDDLE[0], y - UPPER_MIDDLE[1])
    return _table(favorites(board, wishes), 4 * TOUCH * away)


def nothing_dear_in_the_tuck(board: Board, wishes: Wishes) -> Array:
    """Nothing dear lies in the part that is tucked under pillow, foot or mattress."""
    return _table(favorites(board, wishes), 4 * TOUCH * tucked(board, wishes.tuck))


def heavy_pieces_out_of_corners(board: Board, wishes: Wishes) -> Array:
    """Heavy blocks pull a corner down."""
    return _table(heavy(board), 2 * TOUCH * in_corner(board.places))


def cool_iron_prints_away_from_the_top_edge(board: Board, wishes: Wishes) -> Array:
    """Prints that bear little heat are stiff or tender, and faces touch the top edge."""
    return _table(cool_iron(board), TOUCH * at_the_top(board.places))


def accents_on_a_diagonal(board: Board, wishes: Wishes) -> Array:
    """The few bright blocks run from the upper left to the lower right."""
    x, y = centers(board.places)
    return _table(accents(board), 6 * TOUCH * np.abs(x - y))


def shirts_in_their_order(board: Board, wishes: Wishes) -> Array:
    """The story reads from the upper left, row by row, in the order of the pieces' names."""
    rank = reading_order(board)
    steps = np.abs(rank[:, None] - np.arange(len(board.places)))
    return np.asarray(np.rint(TOUCH / 4 * np.minimum(steps, 8) ** 2).astype(np.int64))


def favorites(board: Board, wishes: Wishes) -> Array:
    """Say which blocks are dear: named so, flagged so, or, where few must be in, one that must."""
    named = {board.number_of(name, "favorites") for name in wishes.favorites}
    all_pieces = [piece for pieces in board.pieces for piece in pieces]
    musts = sum(piece.wanted == "must" for piece in all_pieces)
    few = FEW_MUSTS * musts <= len(all_pieces)

    def is_dear(piece: Piece) -> bool:
        return "favorite" in board.garment_of(piece).flags or (few and piece.wanted == "must")

    return np.array(
        [number in named or any(map(is_dear, pieces)) for number, pieces in enumerate(board.pieces)]
    )


def cool_iron(board: Board) -> Array:
    """Say which blocks have a print that bears less than 300 °F."""

    def is_cool(piece: Piece) -> bool:
        printed = piece.print_kind != "none"
        return printed and heat_limit(board.garment_of(piece), piece) < COOL

    return np.array([any(map(is_cool, pieces)) for pieces in board.pieces])


def tucked(board: Board, tuck: Sides) -> Array:
    """Return the share of each place that is tucked away."""
    size = board.quilt.size
    shown = Rect(
        tuck.left,
        tuck.top,
        max(0, size.width - tuck.left - tuck.right),
        max(0, size.height - tuck.top - tuck.bottom),
    )
    return np.array([1 - _common(at, shown) / at.size.area for at in board.places])


def reading_order(board: Board) -> Array:
    """Return the place in the story of each block: by its first piece, plain blocks last."""
    names = [(not pieces, pieces[0].id if pieces else "") for pieces in board.pieces]
    order = sorted(range(len(names)), key=lambda number: (names[number], board.blocks[number].id))
    rank = np.empty(len(order), dtype=np.int64)
    rank[order] = np.arange(len(order))
    return rank


def _table(some: Array, minds: Array) -> Array:
    return np.asarray(np.rint(np.outer(some, minds)).astype(np.int64))


def _common(a: Rect, b: Rect) -> int:
    wide = min(a.right, b.right) - max(a.x, b.x)
    high = min(a.bottom, b.bottom) - max(a.y, b.y)
    return max(0, wide) * max(0, high)
