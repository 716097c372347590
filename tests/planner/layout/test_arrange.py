"""Arranging as a whole: best of small grids, pins, unlike sizes, and what it says of itself."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise, permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.layout import (
    Layout,
    arrange,
    grid_quilt,
    why,
)
from planner.layout.arranging.board import Board, Wishes
from planner.layout.arranging.moods import seating_for
from planner.problems import BadInput, Limit
from planner.quilt import Bag
from planner.units import INCH, Sides, Size
from tests.planner.layout.boards import (
    BLUE,
    GOLD,
    GRAY,
    NINE,
    RED,
    SHORT,
    arranged,
    bag_of,
    colored,
    front,
    grid_of,
    place_of,
    rows_of,
)


@pytest.mark.parametrize("mood", ["calm", "lively", "story"])
def test_nine_blocks_come_to_the_best_of_all_their_arrangements(mood):
    bag = colored(*NINE)
    layout = grid_of(bag, 3, 3)
    board = Board(layout.quilt, bag)
    seating = seating_for(board, Wishes(mood=mood), np.ones((9, 9), dtype=bool))
    every = np.array(list(permutations(range(9))))
    parts = np.array_split(every, 40)  # 9! = 362 880, recounted from the tables of the rules
    least = min(int(seating.cost(part).min()) for part in parts)
    found = arranged(layout, bag, mood=mood, limit=Limit(effort=8000))
    assert found.cost == least


def test_like_colors_do_not_touch_where_they_need_not():
    bag = colored(*[BLUE] * 4, *[RED] * 4, *[GOLD] * 4)
    found = arranged(grid_of(bag, 3, 4), bag)
    color = {piece.id: piece.palette.ground.lab for piece in bag.pieces}
    rows = [[color[name] for name in row] for row in rows_of(found.layout)]
    assert all(a != b for row in rows for a, b in pairwise(row))
    assert all(a != b for above, below in pairwise(rows) for a, b in zip(above, below, strict=True))
    assert "No two blocks of like color lie side by side; there were 9 before." in found.reasons


def test_an_arrangement_is_never_worse_than_what_stood():
    bag = colored(*NINE, *NINE[:3])
    first = arranged(grid_of(bag, 3, 4), bag, limit=Limit(effort=4000))
    again = arranged(first.layout, bag, limit=Limit(effort=8), seed=5)
    assert again.cost <= first.cost


@settings(max_examples=15)
@given(st.permutations(range(12)), st.permutations(range(12)), st.integers(0, 3))
def test_the_order_things_are_given_in_changes_nothing(pieces, cells, seed):
    bag = colored(*NINE, *NINE[:3])
    layout = grid_of(bag, 4, 3)
    asked = {"limit": Limit(effort=800), "seed": seed}
    here = arranged(
        layout, bag, together=[("01F", "02F"), ("03F", "04F")], keep={"05F": "05", "06F": "06"}, **asked
    )
    shuffled_bag = Bag(tuple(bag.garments[n] for n in reversed(pieces)), tuple(bag.pieces[n] for n in pieces))
    quilt = replace(layout.quilt, cells=tuple(layout.quilt.cells[n] for n in cells))
    there = arranged(
        replace(layout, quilt=quilt),
        shuffled_bag,
        together=[("04F", "03F"), ("02F", "01F")],
        keep={"06F": "06", "05F": "05"},
        **asked,
    )
    assert rows_of(there.layout) == rows_of(here.layout)
    assert (there.cost, there.agree, there.reasons) == (here.cost, here.agree, here.reasons)


def test_the_mirror_image_of_a_quilt_comes_out_as_good():
    bag = colored(*NINE)
    layout = grid_of(bag, 3, 3)
    wide = layout.quilt.size.width
    mirrored = replace(
        layout,
        quilt=replace(
            layout.quilt,
            cells=tuple(
                replace(cell, at=replace(cell.at, x=wide - cell.at.right)) for cell in layout.quilt.cells
            ),
        ),
    )
    costs = {arranged(each, bag, mood="lively", limit=Limit(effort=8000)).cost for each in (layout, mirrored)}
    assert len(costs) == 1


@pytest.mark.parametrize(
    ("asked", "field"),
    [
        ({"keep": {"99F": "01"}}, "keep"),  # no such piece
        ({"keep": {"01F": "99"}}, "keep"),  # no such block
        ({"together": [("01F", "99F")]}, "together"),
        ({"apart": [("01F", "01F")]}, "apart"),  # a piece apart from itself
        ({"favorites": ["99F"]}, "favorites"),
        ({"mood": "random"}, "mood"),
    ],
)
def test_what_makes_no_sense_is_refused_by_name(asked, field):
    bag = colored(*NINE)
    with pytest.raises(BadInput) as fault:
        arrange(grid_of(bag, 3, 3), bag, **({"keep": {}, "limit": SHORT} | asked))
    assert fault.value.field == field


def test_a_piece_that_is_not_in_the_bag_is_refused():
    bag = colored(*NINE)
    with pytest.raises(BadInput, match="09F"):
        arrange(grid_of(bag, 3, 3), colored(*NINE[:8]), keep={}, limit=SHORT)


def test_a_quilt_of_plain_blocks_has_nothing_to_arrange():
    layout = Layout(grid_quilt(2, 2, Size(INCH, INCH)))
    found = arrange(layout, Bag(), keep={}, limit=SHORT)
    assert found.layout == layout
    assert found.reasons == ("There is nothing to arrange: no block holds a shirt.",)


def test_who_watches_hears_ever_better_arrangements_and_can_stop():
    bag = colored(*NINE, *NINE)
    heard = []

    def watch(best):
        heard.append(best)
        return False

    found = arranged(grid_of(bag, 3, 6), bag, limit=Limit(effort=4000, watch=watch))
    assert [best.cost for best in heard] == [found.cost]
    assert heard[0].layout == found.layout


def test_a_layout_that_nobody_arranged_can_tell_how_it_lies():
    bag = bag_of([front(n, lab) for n, lab in enumerate(NINE, start=1)], favorite=["S05"])
    layout = grid_of(bag, 3, 3)
    said = why(layout, bag, keep={"01F": "01"})
    assert said[0] == "01F lies where you pinned it."
    assert "05F, the favorite, lies in the upper middle, where it is seen." in said
    assert (
        "3 pairs of like color lie side by side. Look at 01F beside 02F, 02F beside 03F and 04F beside 05F."
        in said
    )


def test_a_hundred_and_twenty_blocks_are_arranged_too():
    bag = colored(*(NINE * 14)[:120])
    found = arranged(grid_of(bag, 10, 12), bag, limit=Limit(effort=400))
    assert place_of(found.layout, "120F")
    assert len(found.reasons) >= 3


def test_what_is_tucked_away_is_nothing_dear():
    bag = bag_of([front(n, GRAY) for n in range(1, 13)], favorite=["S01", "S02", "S12"])
    tuck = Sides(top=15 * INCH, bottom=15 * INCH)
    found = arranged(grid_of(bag, 3, 4), bag, tuck=tuck)
    assert {place_of(found.layout, name)[0] for name in ("01F", "02F", "12F")} <= {1, 2}
    assert "Nothing dear lies in the part that is tucked away." in found.reasons
