"""Straight seams: what can be sewn edge to edge, and the pinwheel that cannot."""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.layout import SeamTree, grid_quilt, seam_rects, straight_seams
from planner.problems import Impossible
from planner.quilt import Sashing
from planner.units import INCH, Rect, Size

PINWHEEL = [Rect(0, 0, 2, 1), Rect(2, 0, 1, 2), Rect(1, 2, 2, 1), Rect(0, 1, 1, 2), Rect(1, 1, 1, 1)]


def cut_at_random(rect: Rect, cuts: int, chance: random.Random) -> list[Rect]:
    parts = [rect]
    for _ in range(cuts):
        part = parts.pop(chance.randrange(len(parts)))
        if chance.random() < 0.5 and part.width > 1:
            at = chance.randint(1, part.width - 1)
            halves = [Rect(part.x, part.y, at, part.height),
                      Rect(part.x + at, part.y, part.width - at, part.height)]  # fmt: skip
        elif part.height > 1:
            at = chance.randint(1, part.height - 1)
            halves = [Rect(part.x, part.y, part.width, at),
                      Rect(part.x, part.y + at, part.width, part.height - at)]  # fmt: skip
        else:
            halves = [part]
        parts += halves
    return parts


def pinwheel_at_random(chance: random.Random) -> list[Rect]:
    """A rectangle that no straight seam can join: somewhere in it lies a pinwheel, which may be cut on.

    No two cuts lie on one line, and none on a line of the pinwheel: a line that ran through would
    have to cut three parts at once.
    """
    left, top = (chance.randint(2, 12) for _ in range(2))
    right, bottom = left + chance.randint(2, 12), top + chance.randint(2, 12)
    wide, high = right + chance.randint(2, 12), bottom + chance.randint(2, 12)
    parts = [
        Rect(0, 0, right, top),
        Rect(right, 0, wide - right, bottom),
        Rect(left, bottom, wide - left, high - bottom),
        Rect(0, top, left, high - top),
        Rect(left, top, right - left, bottom - top),
    ]
    if chance.random() < 0.5:
        parts = [Rect(part.y, part.x, part.height, part.width) for part in parts]
        wide, high, left, top, right, bottom = high, wide, top, left, bottom, right
    upright, level = {left, right}, {top, bottom}
    for _ in range(chance.randint(0, 4)):
        parts += _cut_off_the_lines(parts.pop(chance.randrange(len(parts))), upright, level, chance)
    around = chance.randint(0, 5), chance.randint(0, 5)
    parts = [Rect(part.x + around[0], part.y + around[1], part.width, part.height) for part in parts]
    outside = [Rect(0, 0, around[0] + wide, around[1]), Rect(0, around[1], around[0], high)]
    return parts + [each for each in outside if each.size.area]


def _cut_off_the_lines(part: Rect, upright: set[int], level: set[int], chance: random.Random) -> list[Rect]:
    down = [x for x in range(part.x + 1, part.right) if x not in upright]
    across = [y for y in range(part.y + 1, part.bottom) if y not in level]
    if down and (chance.random() < 0.5 or not across):
        at = chance.choice(down)
        upright.add(at)
        return [
            Rect(part.x, part.y, at - part.x, part.height),
            Rect(at, part.y, part.right - at, part.height),
        ]
    if across:
        at = chance.choice(across)
        level.add(at)
        return [Rect(part.x, part.y, part.width, at - part.y), Rect(part.x, at, part.width, part.bottom - at)]
    return [part]


def rebuilt(tree: SeamTree) -> Rect:
    """Join a tree's parts again, seam by seam, as they would be sewn."""
    if tree.cut == "none":
        assert tree.parts == ()
        return tree.rect
    first, second = (rebuilt(part) for part in tree.parts)
    if tree.cut == "across":
        assert first.bottom == second.y == tree.at
        assert (first.x, first.width) == (second.x, second.width)
        return Rect(first.x, first.y, first.width, first.height + second.height)
    assert first.right == second.x == tree.at
    assert (first.y, first.height) == (second.y, second.height)
    return Rect(first.x, first.y, first.width + second.width, first.height)


def test_a_pinwheel_of_four_round_one_is_refused() -> None:
    """The smallest rectangle division with no straight cut (notes on layout; known to geometry)."""
    answer = straight_seams(PINWHEEL)
    assert isinstance(answer, Impossible)
    assert "no straight seam" in answer.problems[0].what


def test_a_pinwheel_hidden_in_a_corner_is_found() -> None:
    answer = straight_seams([*PINWHEEL, Rect(3, 0, 4, 3), Rect(0, 3, 7, 2)])
    assert isinstance(answer, Impossible)
    assert answer.problems[0].figures == {"x": 0, "y": 0, "width": 3, "height": 3}


@pytest.mark.parametrize(
    "rects",
    [
        [Rect(0, 0, 2, 2), Rect(3, 0, 2, 2)],  # a gap
        [Rect(0, 0, 3, 2), Rect(2, 0, 2, 2)],  # an overlap
        [Rect(0, 0, 2, 2), Rect(2, 0, 2, 1)],  # a missing corner
    ],
)
def test_what_does_not_meet_edge_to_edge_is_refused(rects: list[Rect]) -> None:
    answer = straight_seams(rects)
    assert isinstance(answer, Impossible)
    assert "gap or overlap" in answer.problems[0].what


def test_nothing_at_all_is_refused_in_words() -> None:
    assert isinstance(straight_seams([]), Impossible)


@given(st.integers(0, 10_000), st.integers(0, 40))
def test_whatever_is_cut_straight_through_is_accepted_and_sews_back_together(seed: int, cuts: int) -> None:
    whole = Rect(0, 0, 60, 75)
    rects = cut_at_random(whole, cuts, random.Random(seed))
    tree = straight_seams(rects)
    assert isinstance(tree, SeamTree)
    assert rebuilt(tree) == whole
    assert sorted(tree.leaves(), key=repr) == sorted(rects, key=repr)


def test_10_000_tops_cut_straight_through_are_accepted_and_10_000_with_a_pinwheel_are_refused() -> None:
    chance = random.Random(6)
    for _ in range(10_000):
        rects = cut_at_random(Rect(0, 0, 60, 75), chance.randint(0, 14), chance)
        chance.shuffle(rects)
        tree = straight_seams(rects)
        assert isinstance(tree, SeamTree)
        assert len(tree.leaves()) == len(rects)
        refused = straight_seams(pinwheel_at_random(chance))
        assert isinstance(refused, Impossible)
        assert "turn round one another" in refused.problems[0].what


@given(st.permutations([*PINWHEEL, Rect(3, 0, 2, 3)]))
def test_the_order_of_the_blocks_does_not_matter(rects: list[Rect]) -> None:
    assert straight_seams(rects) == straight_seams([*PINWHEEL, Rect(3, 0, 2, 3)])


@pytest.mark.parametrize("outer", [True, False])
@pytest.mark.parametrize("width", [2 * INCH, 3 * INCH // 2 + 1])
def test_sashing_is_shared_out_so_that_the_field_is_covered(outer: bool, width: int) -> None:
    quilt = grid_quilt(3, 4, Size(14 * INCH, 12 * INCH), sashing=Sashing(width, outer))
    rects = seam_rects(quilt)
    assert sum(rect.size.area for rect in rects) == quilt.field.size.area
    assert isinstance(straight_seams(rects), SeamTree)
