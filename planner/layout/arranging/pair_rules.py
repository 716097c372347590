"""Rules about which blocks may lie near one another, each a table of how much two blocks mind it.

A table is in points that count twice over for each pair, times how near the two lie (8 side by side,
3 across a corner, 1 two away). Two blocks of one color mind by SAME. The rules are those of the trade
handbook 3.11; how much each counts is our own judgment.
"""

from __future__ import annotations

import numpy as np

from planner.colour import difference
from planner.quilt import Garment, Piece

from .board import Board, Wishes, swatches_of
from .terms import Array

SAME = 400
ALIKE_WITHIN = 14  # CIEDE2000 at which likeness has fallen to 1/e
STRONG_CHROMA = 40
LIKE_ENOUGH = 0.4
FEW_ACCENTS = 3
HEAVY_FLAGS = frozenset({"zip", "fleece", "hood"})


def like_colors_apart(board: Board, wishes: Wishes) -> Array:
    """Blocks mind each other as far as their colors are alike."""
    return np.asarray(np.rint(SAME * likeness(board)).astype(np.int64))


def dark_beside_light(board: Board, wishes: Wishes) -> Array:
    """Blocks like to differ in lightness from what lies beside them."""
    light = np.nan_to_num(board.lightness, nan=50.0)
    step = np.abs(light[:, None] - light) / 100
    return np.asarray(np.rint(-SAME * step).astype(np.int64))


def no_heavy_block_beside_another(board: Board, wishes: Wishes) -> Array:
    """Heavy blocks side by side, or on one crossing of seams, sag and break needles."""
    return 2 * SAME * _both(heavy(board))


def wanted_neighbors_together(board: Board, wishes: Wishes) -> Array:
    """Blocks that were wanted together draw each other near."""
    return -4 * SAME * _paired(board, wishes.together, "together")


def unwanted_neighbors_apart(board: Board, wishes: Wishes) -> Array:
    """Blocks that were wanted apart keep off each other."""
    return 4 * SAME * _paired(board, wishes.apart, "apart")


def two_fronts_of_one_team_apart(board: Board, wishes: Wishes) -> Array:
    """Fronts of one team look like the same block twice when they lie side by side."""
    table = np.zeros((len(board.blocks),) * 2, dtype=np.int64)
    for team in wishes.teams:
        table |= _both(fronts_of(board, team))
    return 2 * SAME * table


def plain_blocks_apart(board: Board, wishes: Wishes) -> Array:
    """Plain blocks side by side look like a hole in the quilt (our own judgment)."""
    return 3 * SAME * _both(np.array([block.is_filler for block in board.blocks]))


def accents_scattered(board: Board, wishes: Wishes) -> Array:
    """The few bright blocks keep away from each other, so that the eye travels."""
    return SAME * _both(accents(board))


def likeness(board: Board) -> Array:
    """Return how alike the colors of any two blocks are, 0 to 1; 0 where nothing is known of one.

    Each color of one is compared with each of the other by exp(-(ΔE₀₀ / 14)²), weighed by their
    shares, and set against how alike each block is to itself.
    """
    colors = [(number, *each) for number, p in enumerate(board.palettes) if p for each in swatches_of(p)]
    like = np.zeros((len(board.blocks),) * 2)
    if not colors:
        return like
    labs = np.array([lab for _, lab, _ in colors], dtype=float)
    share = np.array([share for _, _, share in colors])
    close = np.exp(-((difference(labs[:, None], labs) / ALIKE_WITHIN) ** 2)) * np.outer(share, share)
    owner = np.array([number for number, _, _ in colors])
    np.add.at(like, (owner[:, None], owner[None, :]), close)
    own = np.sqrt(like.diagonal())
    scale = np.outer(own, own)
    alike: Array = np.divide(like, scale, out=np.zeros_like(like), where=scale > 0)
    np.fill_diagonal(alike, 0)
    return alike


def accents(board: Board) -> Array:
    """Say which blocks are accents: strong in color, and unlike nine in ten of the others; three or more."""
    chroma = np.array(
        [sum(share * np.hypot(lab[1], lab[2]) for lab, share in swatches_of(p)) if p else 0.0
         for p in board.palettes]
    )  # fmt: skip
    rare = (likeness(board) > LIKE_ENOUGH).sum(axis=1) * 10 <= len(board.blocks)
    found = (chroma >= STRONG_CHROMA) & rare
    few = FEW_ACCENTS <= found.sum() <= max(FEW_ACCENTS, len(board.blocks) // 4)
    return found if few else np.zeros_like(found)


def heavy(board: Board) -> Array:
    """Say which blocks are heavy."""
    return np.array(
        [any(is_heavy(piece, board.garment_of(piece)) for piece in pieces) for pieces in board.pieces]
    )


def is_heavy(piece: Piece, garment: Garment) -> bool:
    """Say whether a piece is heavy: said to be so, of a thick or zipped garment, or with twill letters."""
    thick = garment.thickness == "thick" or bool(garment.flags & HEAVY_FLAGS)
    return piece.heavy or thick or piece.print_kind == "twill"


def fronts_of(board: Board, team: object) -> Array:
    """Say which blocks hold a front of the team."""
    names = frozenset(team)  # type: ignore[call-overload]
    return np.array(
        [any(p.id in names and p.side == "front" for p in pieces) for pieces in board.pieces]
    )  # fmt: skip


def _both(some: Array) -> Array:
    both: Array = np.outer(some, some).astype(np.int64)
    np.fill_diagonal(both, 0)
    return both


def _paired(board: Board, pairs: tuple[tuple[str, str], ...], within: str) -> Array:
    table = np.zeros((len(board.blocks),) * 2, dtype=np.int64)
    for first, second in pairs:
        a, b = board.number_of(first, within), board.number_of(second, within)
        if a != b:
            table[a, b] = table[b, a] = 1
    return table
