"""Pins and places: what may lie where, what contradicts itself, and blocks of unlike size."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.layout import (
    Layout,
    SeamTree,
    Wish,
    arrange,
    mixed_layout,
    straight_seams,
)
from planner.problems import Impossible, Limit
from planner.quilt import Cell, Quilt
from planner.units import INCH, Rect, Size
from tests.planner.layout.boards import (
    BLUE,
    GOLD,
    NINE,
    RED,
    SHORT,
    arranged,
    bag_of,
    colored,
    front,
    grid_of,
)


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


def test_once_pieces_have_other_sizes_the_proof_of_the_layout_is_not_told_any_more():
    layout, bag = uneven()
    layout = replace(layout, proved=True, scope="columns")
    here = arrange(layout, bag, keep={}, limit=Limit(effort=8), seed=0)
    pinned = arrange(layout, bag, keep={"03F": "03", "04F": "02"}, limit=SHORT)
    assert not pinned.layout.proved
    sizes = {cell.id: cell.at.size for cell in layout.quilt.cells}
    unmoved = all(cell.at.size == sizes[cell.id] for cell in here.layout.quilt.cells)
    assert here.layout.proved == unmoved


def test_a_mixed_layout_stays_sound():
    rng = np.random.default_rng(1)
    labs = [NINE[n % 9] for n in range(14)]
    pieces = [
        front(n, lab, print_size=Size(int(w) * INCH, int(h) * INCH))
        for n, (lab, w, h) in enumerate(zip(labs, *rng.integers(6, 12, (2, 14)), strict=True), start=1)
    ]
    bag = bag_of(pieces)
    wish = Wish(Size(48 * INCH, 60 * INCH), 6 * INCH, (Size(12 * INCH, 12 * INCH),), style="mixed")
    layout = mixed_layout(bag, wish, limit=Limit(effort=20))
    assert isinstance(layout, Layout)
    found = arranged(layout, bag)
    assert isinstance(straight_seams([cell.at for cell in found.layout.quilt.cells]), SeamTree)


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
