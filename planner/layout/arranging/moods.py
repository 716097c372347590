"""Moods of an arrangement: which rules speak in each, and how loud."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from . import pair_rules as pair
from . import place_rules as place
from .board import Board, Wishes
from .places import lines, nearness
from .terms import BARRED, Array, Pairs, Seating

Rule = Callable[[Board, Wishes], Array]
STEP = 4  # points of lightness that count as one

ALWAYS: tuple[Rule, ...] = (
    pair.no_heavy_block_beside_another,
    pair.wanted_neighbors_together,
    pair.unwanted_neighbors_apart,
    pair.two_fronts_of_one_team_apart,
    pair.plain_blocks_apart,
)
ALWAYS_PLACES: tuple[Rule, ...] = (
    place.favorites_in_the_upper_middle,
    place.nothing_dear_in_the_tuck,
    place.heavy_pieces_out_of_corners,
    place.cool_iron_prints_away_from_the_top_edge,
)
# How many times each rule counts; the moods are our own judgment.
PAIR_RULES: dict[str, tuple[tuple[Rule, int], ...]] = {
    "calm": ((pair.like_colors_apart, 2),),
    "lively": ((pair.like_colors_apart, 2), (pair.dark_beside_light, 1), (pair.accents_scattered, 1)),
    "story": ((pair.like_colors_apart, 1),),
}
PLACE_RULES: dict[str, tuple[tuple[Rule, int], ...]] = {
    "calm": ((place.accents_on_a_diagonal, 1),),
    "lively": (),
    "story": ((place.shirts_in_their_order, 1),),
}


def seating_for(board: Board, wishes: Wishes, open_: Array) -> Seating:
    """Return what every arrangement costs: lower is better, whole points."""
    pair_rules = (*((rule, 1) for rule in ALWAYS), *PAIR_RULES[wishes.mood])
    place_rules = (*((rule, 1) for rule in ALWAYS_PLACES), *PLACE_RULES[wishes.mood])
    minds = np.sum([times * rule(board, wishes) for rule, times in pair_rules], axis=0)
    alone = np.sum([times * rule(board, wishes) for rule, times in place_rules], axis=0)
    near, balance, own = nearness(board), *light_and_dark_balanced(board, wishes)
    return Seating((Pairs(minds, near), balance), np.where(open_, alone + own, BARRED))


def light_and_dark_balanced(board: Board, wishes: Wishes) -> tuple[Pairs, Array]:
    """Rows, columns and quarters are to be alike in lightness: their sums of it less the mean, squared.

    The squares of single blocks are costs of a block on a place; the rest are costs of pairs.
    """
    light = board.lightness
    known = ~np.isnan(light)
    mean = light[known].mean() if known.any() else 0.0
    step = np.where(known, np.rint((np.nan_to_num(light) - mean) / STEP), 0).astype(np.int64)
    flow, in_line = np.outer(step, step), lines(board)
    own = np.multiply.outer(flow.diagonal(), in_line.diagonal())
    np.fill_diagonal(flow, 0)
    np.fill_diagonal(in_line, 0)
    return Pairs(flow, in_line), own
