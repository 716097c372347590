"""Mixed layouts: published sizes, what must hold in each, and what is said where there is none."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.layout import Layout, Wish, check_layout, mixed_layout
from planner.layout.mixing.demands import wanted_of
from planner.layout.mixing.places import Chooser, Module
from planner.layout.window import keep
from planner.problems import BadInput, Impossible, Limit, Undecided
from planner.quilt import Bag, Border, Cell, Piece, Sashing
from planner.units import INCH, Sides, Size

from .quilts import HALF, bag_of, inches, piece, random_bag, wish_for

EFFORT = Limit(effort=400)
BETWEEN = Sashing(INCH, outer=False)


def found(bag: Bag, wish: object, **change: object) -> Layout:
    answer = mixed_layout(bag, wish, **{"limit": EFFORT, **change})
    assert isinstance(answer, Layout), answer
    assert check_layout(answer, bag) == ()
    return answer


def refused(bag: Bag, wish: object, **change: object) -> Impossible:
    answer = mixed_layout(bag, wish, **{"limit": EFFORT, **change})
    assert isinstance(answer, Impossible), answer
    return answer


def sizes_of(layout: Layout) -> Counter[tuple[int, int]]:
    return Counter((cell.at.width // INCH, cell.at.height // INCH) for cell in layout.quilt.cells)


def tour_shirts() -> Bag:
    """Trade handbook S7: 15 fronts of 10-12 by 12-14 and 12 backs of 12-14 by 17-18."""
    fronts = [piece(f"{n:02d}F", inches(10 + n % 3, 12 + n % 3)) for n in range(1, 16)]
    backs = [piece(f"{n:02d}B", inches(12 + n % 3, 17 + n % 2), cloth=inches(20, 24)) for n in range(1, 13)]
    return bag_of(*fronts, *backs)


def test_27_tour_prints_fill_90_by_80_without_filler_proved() -> None:
    """Trade handbook S7: an exact answer of 15 blocks of 14 by 16 and 12 of 16 by 20 in columns."""
    layout = found(tour_shirts(), wish_for(90, 80, margin=INCH, blocks=(inches(14, 16), inches(16, 20))))
    assert layout.quilt.size == inches(90, 80)
    assert sum(cell.is_filler for cell in layout.quilt.cells) == 0
    assert (layout.left_out, layout.cropped, layout.proved) == ((), (), True)
    assert layout.cost == layout.bound


def test_where_nothing_but_those_sizes_can_be_cut_the_columns_are_those_of_the_handbook() -> None:
    """Trade handbook S7: three columns of 5 fronts, 14 wide, and three of 4 backs, 16 wide."""
    whole = [
        replace(each, cut=_cut(14, 16) if each.side == "front" else _cut(16, 20))
        for each in tour_shirts().pieces
    ]
    layout = found(replace(tour_shirts(), pieces=tuple(whole)), wish_for(90, 80, margin=INCH))
    assert sizes_of(layout) == {(14, 16): 15, (16, 20): 12}
    assert sorted(Counter(cell.at.x for cell in layout.quilt.cells).values()) == [4, 4, 4, 5, 5, 5]


def _cut(width: int, height: int) -> Size:
    return inches(width, height).grown(INCH // 2)


def dress_shirts(count: int) -> Bag:
    """Fronts and backs of woven shirts: plain cloth, any part of which will do."""
    return bag_of(
        *(piece(f"{n:02d}{'FB'[n % 2]}", Size(0, 0), cloth=inches(18, 20)) for n in range(1, count + 1))
    )


def test_twenty_plain_patches_and_a_3_in_border_make_54_by_66() -> None:
    """Trade handbook S3: each of the two quilts is 48 by 60 of patches and 3 in all round."""
    border = Border(Sides.all_round(3 * INCH))
    layout = found(dress_shirts(20), wish_for(54, 66, borders=(border,)))
    assert layout.quilt.size == inches(54, 66)
    assert sum(cell.piece is not None for cell in layout.quilt.cells) == 20
    assert sizes_of(layout) == {(12, 12): 20}


def test_a_tie_is_a_narrow_strip() -> None:
    tie = piece("05F", Size(0, 0), cloth=Size(7 * INCH // 2, 30 * INCH))
    blocks = [piece(f"{n:02d}F", inches(10, 10), cut=_cut(12, 12)) for n in range(1, 3)]
    layout = found(bag_of(tie, *blocks), wish_for(15, 24))
    assert {cell.piece: cell.at.size for cell in layout.quilt.cells}["05F"] == inches(3, 24)


# In steps of 3/4 in the blocks have no room for strips of their own, which are 1/2 in at least.
THREE_QUARTERS = 3 * INCH // 4


def test_a_narrow_strip_over_the_whole_width_fills_what_the_blocks_leave() -> None:
    blocks = [piece(f"{n:02d}F", inches(10, 10), cut=_cut(12, 12)) for n in range(1, 5)]
    wish = replace(wish_for(1, 1), target=Size(24 * INCH, 24 * INCH + THREE_QUARTERS))
    layout = found(bag_of(*blocks), wish, module=THREE_QUARTERS)
    strips = [cell.at.size for cell in layout.quilt.cells if cell.is_filler]
    assert sum(strip.area for strip in strips) == Size(24 * INCH, THREE_QUARTERS).area
    assert all(min(strip.width, strip.height) == THREE_QUARTERS for strip in strips)


def test_a_strip_down_the_whole_length_is_one_strip() -> None:
    blocks = [piece(f"{n:02d}F", inches(10, 10), cut=_cut(12, 12)) for n in range(1, 4)]
    wish = replace(wish_for(1, 1), target=Size(12 * INCH + THREE_QUARTERS, 36 * INCH))
    layout = found(bag_of(*blocks), wish, module=THREE_QUARTERS)
    assert [c.at.size for c in layout.quilt.cells if c.is_filler] == [Size(THREE_QUARTERS, 36 * INCH)]


def test_a_piece_that_is_cut_keeps_its_size_and_gets_strips_where_its_block_is_larger() -> None:
    cut = piece("01F", inches(8, 8), cut=_cut(10, 10))
    others = [piece(f"{n:02d}F", inches(10, 10)) for n in range(2, 5)]
    layout = found(bag_of(cut, *others), wish_for(24, 24))
    cell = next(each for each in layout.quilt.cells if each.piece == "01F")
    assert (cell.at.size, cell.room.size) == (inches(12, 12), inches(10, 10))


def test_sashing_lies_between_mixed_blocks_and_round_them() -> None:
    """A block and a strip make whole steps of 3 in: blocks are 2 in less, and 3 in more for each step."""
    sashing = Sashing(2 * INCH, outer=True, cornerstones=True)
    layout = found(random_bag(9, 2), wish_for(50, 50, tolerance=3 * INCH, sashings=(sashing,)))
    quilt = layout.quilt
    assert quilt.sashing == Sashing(2 * INCH, outer=True, cornerstones=False)
    assert {side % (3 * INCH) for cell in quilt.cells for side in (cell.at.width, cell.at.height)} == {INCH}
    assert (quilt.size.width % (3 * INCH), quilt.size.height % (3 * INCH)) == (2 * INCH, 2 * INCH)


def test_one_panel_of_every_garment_is_in_and_the_rest_is_left_out_with_a_reason() -> None:
    pair = [piece("01F", inches(10, 10), wanted="may"), piece("01B", inches(10, 10), wanted="may")]
    others = [piece(f"{n:02d}F", inches(10, 10)) for n in range(2, 5)]
    bag = bag_of(*pair, *others, piece("04B", inches(10, 10), wanted="out"))
    layout = found(bag, wish_for(24, 24))
    reasons = {each.piece: each.reason for each in layout.left_out}
    assert reasons["04B"] == "Not wanted in this quilt."
    assert len(reasons) == 2
    assert "its garment has another" in (reasons.get("01F") or reasons["01B"])


def test_a_print_that_no_cloth_keeps_whole_is_named_and_not_hidden() -> None:
    bare = piece("01F", inches(11, 11), cloth=inches(11, 11))
    others = [piece(f"{n:02d}F", inches(10, 10)) for n in range(2, 5)]
    assert found(bag_of(bare, *others), wish_for(24, 24)).cropped == ("01F",)


def test_a_better_layout_is_heard_of_and_the_search_ends_when_she_has_seen_enough() -> None:
    heard: list[Layout] = []
    limit = Limit(effort=400, watch=lambda best: heard.append(best) is not None)
    answer = mixed_layout(random_bag(16, 0), wish_for(51, 66), limit=limit)
    assert isinstance(answer, Layout)
    assert [each.quilt for each in heard] == [answer.quilt]
    limit = Limit(effort=400, watch=lambda best: heard.append(best) is None)
    best = mixed_layout(random_bag(16, 0), wish_for(51, 66), limit=limit)
    assert isinstance(best, Layout)
    assert [each.cost for each in heard[1:]] == sorted({each.cost for each in heard[1:]}, reverse=True)
    assert heard[-1].quilt == best.quilt


def test_with_hardly_any_effort_it_says_that_it_does_not_know() -> None:
    answer = mixed_layout(random_bag(60, 1), wish_for(105, 129), limit=Limit(effort=1))
    assert isinstance(answer, Undecided)
    assert answer.problems[0].change == "Let it search longer."


def test_the_same_effort_gives_the_same_layout_in_whatever_order_the_bag_lies() -> None:
    bag, wish = random_bag(12, 1), wish_for(45, 57)
    shuffled = Bag(bag.garments[::-1], bag.pieces[::-1])
    once = found(bag, wish, limit=Limit(effort=30))
    assert found(bag, wish, limit=Limit(effort=30)) == once
    assert found(shuffled, wish, limit=Limit(effort=30)) == once


def test_no_pieces_are_an_answer_with_a_reason() -> None:
    assert refused(Bag(), wish_for(50, 66)).problems[0].what == "There is no piece to lay out."


def test_a_piece_larger_than_the_quilt_is_named() -> None:
    bag = bag_of(piece("01F", inches(30, 10), cloth=inches(40, 20)))
    problem = refused(bag, wish_for(24, 24)).problems[0]
    assert (problem.what, problem.where) == ("01F needs a block that 24 × 24 in does not hold.", ("01F",))


def test_a_step_that_does_not_divide_the_size_names_the_sizes_it_makes() -> None:
    problem = refused(random_bag(12, 1), wish_for(50, 66), module=4 * INCH).problems[0]
    assert problem.what == "Steps of 4 in do not come to 50 × 66 in."
    assert problem.change == "They make 48 × 64 in or 48 × 68 in; or take another step."


@pytest.mark.parametrize("module", [0, -INCH])
def test_a_step_must_be_a_length(module: int) -> None:
    with pytest.raises(BadInput) as fault:
        mixed_layout(random_bag(3, 0), wish_for(50, 66), module=module, limit=EFFORT)
    assert fault.value.field == "module"


def test_the_step_that_makes_the_size_exactly_is_taken() -> None:
    limit = Limit(effort=20)
    assert "steps of 2 in" in found(random_bag(9, 1), wish_for(44, 44, tolerance=4 * INCH), limit=limit).scope


def test_in_centimeters_sizes_come_in_eights_or_fives() -> None:
    wish = wish_for(1, 1, tolerance=0, margin=320 * 10)
    wish = replace(wish, target=Size(1200 * 320, 1280 * 320))
    layout = mixed_layout(random_bag(9, 1), wish, limit=EFFORT, unit="cm")
    assert isinstance(layout, Layout)
    assert "steps of 8 cm, 120 × 128 cm before the first wash" in layout.scope


def test_too_many_pieces_for_the_size_name_a_size_and_a_number_that_work() -> None:
    bag = bag_of(*(piece(f"{n:02d}F", inches(11, 11)) for n in range(1, 14)))
    problem = refused(bag, wish_for(36, 48)).problems[0]
    assert problem.what == "These 13 pieces do not fill 36 × 48 in whole and in straight seams."
    assert problem.change.startswith("Leave one out, or make it ")
    assert problem.figures["most"] == 12
    found(bag, replace(wish_for(1, 1), target=Size(problem.figures["width"], problem.figures["height"])))
    found(replace(bag, pieces=bag.pieces[1:]), wish_for(36, 48))


def test_one_shirt_does_not_fill_a_quilt() -> None:
    problem = refused(bag_of(piece("01F", inches(10, 10))), wish_for(60, 75)).problems[0]
    assert "wish for another size" in problem.change.lower()


@pytest.mark.slow
def test_120_pieces_are_laid_out_or_refused_in_words() -> None:
    answer = mixed_layout(random_bag(120, 1), wish_for(144, 180, tolerance=3 * INCH), limit=Limit(effort=60))
    assert isinstance(answer, Layout)
    assert check_layout(answer, random_bag(120, 1)) == ()


@settings(max_examples=12, deadline=None)
@given(
    shirts=st.integers(1, 14),
    seed=st.integers(0, 10_000),
    across=st.integers(8, 17),
    down=st.integers(8, 20),
    sashing=st.sampled_from([None, BETWEEN, Sashing(INCH)]),
    cuts=st.integers(0, 3),
)
def test_every_layout_is_sound(
    shirts: int, seed: int, across: int, down: int, sashing: Sashing | None, cuts: int
) -> None:
    """It covers the quilt once in straight seams; prints are whole with their margin; what is cut stays."""
    bag = random_bag(shirts, seed)
    cut = [replace(each, cut=_cut(12, 15)) if each.side == "front" else each for each in bag.pieces[:cuts]]
    bag = replace(bag, pieces=(*cut, *bag.pieces[cuts:]))
    wish = wish_for(3 * across, 3 * down, tolerance=2 * INCH, sashings=(sashing,))
    answer = mixed_layout(bag, wish, module=3 * INCH, limit=Limit(effort=30))
    if not isinstance(answer, Layout):
        assert answer.problems[0].change
        return
    assert check_layout(answer, bag) == ()
    assert answer.bound <= answer.cost
    assert abs(answer.quilt.size.width - wish.target.width) <= wish.tolerance
    assert abs(answer.quilt.size.height - wish.target.height) <= wish.tolerance
    for cell in answer.quilt.with_pieces():
        assert _keeps_its_margin(bag.piece(cell.piece or ""), cell) or cell.piece in answer.cropped


def _keeps_its_margin(piece: Piece, cell: Cell) -> bool:
    """Whole with its margin; a piece that is cut already with what was left of it."""
    window = keep(piece, cell.at.size, seam=INCH // 4)
    assert window is not None
    assert window.frame == cell.frame
    return window.keeps_margin(piece, 0 if piece.cut else HALF)


@pytest.mark.slow
@pytest.mark.parametrize(("shirts", "rows"), [(12, 0), (24, 1), (36, 1)])
def test_something_can_be_shown_within_the_steps_of_two_seconds(shirts: int, rows: int) -> None:
    """A first layout, or a proof that parts of few blocks make none: 30 steps take 1.7 s of a processor.

    Without the row more there is just room enough, which is where most proofs of none are.
    """
    for seed in range(2):
        bag = random_bag(shirts, seed)
        limit = Limit(effort=30, watch=lambda best: False)
        answer = mixed_layout(bag, wish_of_area(bag, rows=rows), module=3 * INCH, limit=limit)
        if isinstance(answer, Undecided):
            assert answer.problems[0].what.startswith("There is none whose parts hold up to 3 blocks.")
            continue
        assert isinstance(answer, Layout | Impossible)


def wish_of_area(bag: Bag, *, rows: int) -> Wish:
    """Wish for 4 by 5 of the area that the smallest blocks take together, and so many rows more."""
    wanted = wanted_of(bag, Chooser(Module(3 * INCH), HALF, INCH // 4))
    least = sum(
        min(across * down for across, down in each.costs) * len(each.pieces)
        for each in wanted.demands
        if each.required
    )
    across = round((least * 4 / 5) ** 0.5)
    return wish_for(3 * across, 3 * (-(-least // across) + rows))
