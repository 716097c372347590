"""Arranging as a whole: best of small grids, pins, unlike sizes, and what it says of itself."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise, permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.layout import Arrangement, Layout, arrange, check_layout, grid_quilt, why
from planner.layout.arrange_board import Board, Wishes
from planner.layout.arrange_moods import seating_for
from planner.problems import BadInput, Impossible, Limit
from planner.quilt import Bag, Cell, Quilt
from planner.units import INCH, Rect, Sides, Size
from tests.planner.layout.boards import (
    BLACK,
    BLUE,
    GOLD,
    GRAY,
    RED,
    WHITE,
    bag_of,
    colored,
    front,
    grid_of,
    place_of,
    rows_of,
)

SHORT = Limit(effort=2400)
NINE = (BLUE, BLUE, BLUE, RED, RED, GOLD, WHITE, BLACK, GRAY)


def arranged(layout, bag, **asked):
    found = arrange(layout, bag, **({"keep": {}, "limit": SHORT} | asked))
    assert isinstance(found, Arrangement), found
    assert {cell.at for cell in found.layout.quilt.cells} == {cell.at for cell in layout.quilt.cells}
    assert not check_layout(found.layout, bag)
    return found


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


@settings(max_examples=20)
@given(st.data())
def test_pins_hold_and_every_block_keeps_its_name_and_turn(data):
    bag = colored(*NINE)
    layout = grid_of(bag, 3, 3)
    cells = tuple(replace(cell, turn=180 if cell.id == "04" else 0) for cell in layout.quilt.cells)
    layout = replace(layout, quilt=replace(layout.quilt, cells=cells))
    pins = data.draw(st.dictionaries(st.sampled_from([p.id for p in bag.pieces]), st.just(""), max_size=4))
    places = data.draw(st.permutations([cell.id for cell in cells]))
    keep = dict(zip(pins, places, strict=False))
    found = arranged(layout, bag, keep=keep, limit=Limit(effort=400))
    before = {cell.id: cell for cell in layout.quilt.cells}
    after = {cell.id: cell for cell in found.layout.quilt.cells}
    for piece, place in keep.items():
        assert next(c for c in after.values() if c.piece == piece).at == before[place].at
    assert {id: (c.piece, c.turn) for id, c in after.items()} == {
        id: (c.piece, c.turn) for id, c in before.items()
    }


def test_two_pins_to_one_place_name_the_two():
    bag = colored(*NINE)
    found = arrange(grid_of(bag, 3, 3), bag, keep={"02F": "05", "07F": "05"}, limit=SHORT)
    assert isinstance(found, Impossible)
    assert [problem.where for problem in found.problems] == [("02F", "07F")]
    assert "pinned to the same place" in found.problems[0].what
    assert found.problems[0].change == "Unpin one of them."


def test_a_pair_wanted_together_and_apart_is_named():
    bag = colored(*NINE)
    layout = grid_of(bag, 3, 3)
    both = arrange(layout, bag, keep={}, together=[("02F", "07F")], apart=[("07F", "02F")], limit=SHORT)
    assert isinstance(both, Impossible)
    assert both.problems[0].where == ("02F", "07F")
    pinned = arrange(layout, bag, keep={"02F": "01", "07F": "02"}, apart=[("02F", "07F")], limit=SHORT)
    assert isinstance(pinned, Impossible)
    assert pinned.problems[0].where == ("02F", "07F")
    far = arrange(layout, bag, keep={"02F": "01", "07F": "09"}, together=[("02F", "07F")], limit=SHORT)
    assert isinstance(far, Impossible)


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


def uneven():
    """Return a quilt of two blocks of 14 in, two of 10 in and a composite of two halves, 24 in wide and high.

    01F and 02F print 10 in, so they sit whole in 14 in only; 03F and 04F print 8 in and fit either.
    """
    small = {"print_size": Size(8 * INCH, 8 * INCH)}
    fronts = [front(1, BLUE), front(2, BLUE), front(3, RED), front(4, GOLD), front(5), front(6)]
    bag = bag_of([replace(each, **(small if each.id > "02F" else {})) for each in fronts])
    half = [Cell("05a", Rect(0, 24 * INCH, 12 * INCH, 6 * INCH), piece="05F"),
            Cell("05b", Rect(12 * INCH, 24 * INCH, 12 * INCH, 6 * INCH), piece="06F")]  # fmt: skip
    cells = [
        Cell("01", Rect(0, 0, 14 * INCH, 14 * INCH), piece="01F"),
        Cell("02", Rect(14 * INCH, 0, 10 * INCH, 14 * INCH), piece="03F"),
        Cell("03", Rect(0, 14 * INCH, 10 * INCH, 10 * INCH), piece="04F"),
        Cell("04", Rect(10 * INCH, 14 * INCH, 14 * INCH, 10 * INCH)),
        Cell("05", Rect(0, 24 * INCH, 24 * INCH, 6 * INCH), inside=tuple(half)),
    ]
    return Layout(Quilt(Size(24 * INCH, 30 * INCH), tuple(cells))), bag


def test_only_where_its_print_sits_whole_may_a_piece_take_a_block_of_another_size():
    layout, bag = uneven()
    for seed in range(6):
        found = arrange(layout, bag, keep={}, limit=Limit(effort=160), seed=seed)
        at = {cell.piece: cell.at.size for cell in found.layout.quilt.cells if cell.piece}
        assert at["01F"] == Size(14 * INCH, 14 * INCH)
        assert min(at["03F"].width, at["04F"].width, at["03F"].height, at["04F"].height) >= 10 * INCH


def test_a_pin_to_a_block_of_another_size_says_so():
    layout, bag = uneven()
    found = arrange(layout, bag, keep={"01F": "03"}, limit=SHORT)
    assert isinstance(found, Impossible)
    assert found.problems[0].where == ("01F", "04F")


def test_a_pin_that_takes_the_only_place_of_another_names_the_two():
    layout, bag = uneven()
    found = arrange(layout, bag, keep={"03F": "01"}, limit=SHORT)
    assert isinstance(found, Impossible)
    assert found.problems[0].where == ("01F", "03F")


def test_a_cut_piece_keeps_its_size():
    layout, bag = uneven()
    cut = Size(10 * INCH + INCH // 2, 14 * INCH + INCH // 2)
    bag = replace(bag, pieces=tuple(replace(p, cut=cut) if p.id == "03F" else p for p in bag.pieces))
    for seed in range(4):
        found = arrange(layout, bag, keep={}, limit=Limit(effort=160), seed=seed)
        assert next(c for c in found.layout.quilt.cells if c.piece == "03F").at.size == Size(
            10 * INCH, 14 * INCH
        )


def test_a_composite_moves_as_one_and_can_be_pinned_by_its_own_name():
    bag = colored(*NINE)
    layout = grid_of(bag, 3, 3)
    at = layout.quilt.cells[0].at
    inside = (
        Cell("01a", replace(at, width=at.width // 2), piece="01F"),
        Cell("01b", replace(at, x=at.x + at.width // 2, width=at.width // 2), piece="09F"),
    )
    block = replace(layout.quilt.cells[0], piece=None, inside=inside)
    plain = replace(layout.quilt.cells[8], piece=None)
    quilt = replace(layout.quilt, cells=(block, *layout.quilt.cells[1:8], plain))
    found = arrange(Layout(quilt), bag, keep={"01": "05", "09": "09"}, limit=SHORT)
    moved = {cell.id: cell for cell in found.layout.quilt.cells}
    assert moved["01"].at == quilt.cells[4].at
    assert [cell.at.y for cell in moved["01"].inside] == [quilt.cells[4].at.y] * 2
    assert moved["09"].at == plain.at
    split = arrange(Layout(quilt), bag, keep={"01F": "05", "09F": "06"}, limit=SHORT)
    assert isinstance(split, Impossible)
    assert split.problems[0].where == ("01F", "09F")


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
