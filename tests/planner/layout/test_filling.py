"""What fills a number of blocks that is no number of pieces, in order."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.layout import Layout, check_layout, fit, grid_options, sewing_order
from planner.layout.composites import Composer
from planner.materials import Allowances, parts
from planner.quilt import Bag, Border, Piece, Sashing
from planner.units import INCH, Rect, Sides

from .quilts import CHEST, HALF, bag_of, inches, piece, random_bag, wish_for

TWO_IN = Sashing(2 * INCH, outer=True, cornerstones=True)


def fronts(count: int, side: int = 11) -> list[Piece]:
    return [piece(f"{n:02d}F", inches(side, side)) for n in range(1, count + 1)]


def pocket(number: int, side: int = 4) -> Piece:
    return piece(f"{number:02d}P", inches(side, side), cloth=CHEST, wanted="may")


def wish(width: int, height: int, block: int = 14, **change: object) -> object:
    plain = {"style": "grid", "blocks": (inches(block, block),), "sashings": (TWO_IN,)}
    return wish_for(width, height, **{**plain, **change})


def best(bag: Bag, wish: object) -> Layout:
    layout = grid_options(bag, wish).options[0]
    assert check_layout(layout, bag) == ()
    return layout


def composites(layout: Layout) -> list[set[str | None]]:
    return [{each.piece for each in cell.inside} for cell in layout.quilt.cells if cell.inside]


def test_second_panels_come_before_composites_of_small_prints() -> None:
    backs = [replace(piece(f"{n:02d}B", inches(12, 13)), wanted="may") for n in (1, 2)]
    layout = best(bag_of(*fronts(9), *backs, *(pocket(n) for n in range(1, 5))), wish(50, 66))
    assert {"01B", "02B"} <= {cell.piece for cell in layout.quilt.cells}
    assert composites(layout) == [{"01P", "02P", "03P", "04P"}]
    assert not any(cell.is_filler for cell in layout.quilt.cells)


def test_composites_come_before_plain_cloth() -> None:
    layout = best(bag_of(*fronts(10), pocket(1), pocket(2)), wish(50, 66))
    assert composites(layout) == [{"01P", "02P"}]
    assert sum(cell.is_filler for cell in layout.quilt.cells) == 1


def test_plain_cloth_comes_before_a_feature_block() -> None:
    layout = best(bag_of(*fronts(8)), wish(50, 66))
    assert sum(cell.is_filler for cell in layout.quilt.cells) == 4


def test_more_than_four_blocks_to_spare_take_the_largest_print_over_four_places() -> None:
    """7 of 12 blocks of 8 in: one print takes four places, and two are left plain."""
    large = piece("07F", inches(13, 14), cloth=inches(20, 22))
    layout = best(bag_of(*fronts(6, side=6), large), wish(32, 42, block=8))
    feature = next(cell for cell in layout.quilt.cells if cell.piece == "07F")
    assert feature.at == Rect(2 * INCH, 12 * INCH, 18 * INCH, 18 * INCH)
    assert sum(cell.is_filler for cell in layout.quilt.cells) == 2
    assert layout.quilt.sashing == replace(TWO_IN, cornerstones=False)
    assert parts(layout.quilt, allowances=Allowances())["sashing"]


def test_no_print_is_stretched_over_four_places_that_its_cloth_does_not_fill() -> None:
    answer = grid_options(bag_of(*fronts(7)), wish(50, 66))
    assert answer.options == ()
    assert answer.why_none[0].what == "7 blocks do not fill 50 × 66 in in even rows."


def test_where_there_are_too_few_blocks_small_prints_share_them() -> None:
    bag = bag_of(*fronts(10), *(replace(pocket(n), wanted="must") for n in range(11, 16)))
    layout = best(bag, wish(50, 66))
    assert sorted(map(len, composites(layout))) == [2, 3]
    assert layout.left_out == ()


def baby_clothes() -> Bag:
    """Trade handbook S6: 48 tiny garments with prints of 3 to 6 in, a little cloth round each."""
    sides = [(3 + n % 4, 3 + n // 4 % 4) for n in range(48)]
    tiny = [
        piece(f"{n:02d}F", inches(wide, high), cloth=inches(wide + 4, high + 4))
        for n, (wide, high) in enumerate(sides, start=1)
    ]
    return bag_of(*tiny)


def test_48_baby_clothes_fill_16_composites_of_12_in_and_make_64_square() -> None:
    """Trade handbook S6: 16 composites of 3 garments, 2 sashing all round, 3 border: 64 by 64."""
    border = Border(Sides.all_round(3 * INCH))
    layout = best(baby_clothes(), wish(64, 64, block=12, borders=(border,)))
    assert layout.quilt.size == inches(64, 64)
    assert [len(each) for each in composites(layout)] == [3] * 16
    assert (layout.left_out, layout.notes, layout.cropped) == ((), (), ())
    items = parts(layout.quilt, allowances=Allowances())
    assert sum(item.count for item in items["sashing"]) == 40
    assert sum(item.count for item in items["cornerstone"]) == 25


def test_each_print_of_a_composite_is_whole_with_its_margin_and_all_sew_together() -> None:
    bag = baby_clothes()
    layout = best(bag, wish(64, 64, block=12, borders=(Border(Sides.all_round(3 * INCH)),)))
    for cell in layout.quilt.with_pieces():
        answer = fit(bag.piece(cell.piece or ""), cell.at.size, margin=HALF)
        assert answer.ok or answer.remedies[0].kind == "frame"
    assert len([step for step in sewing_order(layout, bag) if step.makes.startswith("block ")]) >= 16


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.integers(2, 9), st.integers(2, 9)), min_size=2, max_size=4))
def test_prints_put_together_fill_the_block_without_overlap(sides: list[tuple[int, int]]) -> None:
    pieces = [
        piece(f"{n:02d}F", inches(wide, high), cloth=inches(20, 20)) for n, (wide, high) in enumerate(sides)
    ]
    composer = Composer(inches(14, 14), HALF, INCH // 4)
    part = composer.together([composer.single(each) for each in pieces])
    needed = sum((wide + 1) * (high + 1) for wide, high in sides)
    assert part is not None or needed > 14 * 14 // 2
    if part is not None:
        cell = composer.cells("01", part, Rect(0, 0, 14 * INCH, 14 * INCH))
        assert sum(each.at.size.area for each in cell.inside) == cell.at.size.area
        assert {each.piece for each in cell.inside} == {each.id for each in pieces}


@pytest.mark.parametrize("blocks", [0, 1, 6])
def test_no_more_than_four_and_no_less_than_one_print_go_into_a_block(blocks: int) -> None:
    assert Composer(inches(14, 14), HALF, INCH // 4).composed([pocket(n) for n in range(5)], blocks) is None


def test_where_no_grid_fits_the_nearest_size_is_named_and_works() -> None:
    bag = bag_of(*fronts(13))
    problem = grid_options(bag, wish(50, 66)).why_none[0]
    assert (
        problem.change
        == "It works with 11 or 12 blocks: keep second sides, leave some out, or make it 50 × 82 in."
    )
    assert best(bag, wish(50, 82)).left_out == ()


def test_a_grid_that_a_cut_piece_does_not_fit_into_is_not_offered() -> None:
    bag = bag_of(replace(fronts(1)[0], cut=inches(14, 14).grown(INCH // 2)), *fronts(12)[1:])
    offered = wish(50, 66, tolerance=8 * INCH, blocks=(inches(12, 12), inches(14, 14)))
    assert {cell.at.size for layout in grid_options(bag, offered).options for cell in layout.quilt.cells} == {
        inches(14, 14)
    }
    problem = grid_options(bag, replace(offered, blocks=(inches(12, 12),))).why_none[0]
    assert problem.what == "01F is cut larger than any of these blocks."


@settings(max_examples=25, deadline=None)
@given(st.integers(3, 30), st.integers(0, 500), st.sampled_from([9, 12, 14]))
def test_every_filled_grid_is_sound(shirts: int, seed: int, block: int) -> None:
    bag = random_bag(shirts, seed)
    offered = wish(60, 75, block=block, tolerance=4 * INCH, sashings=(TWO_IN, None))
    answer = grid_options(bag, offered)
    assert bool(answer.options) != bool(answer.why_none)
    for layout in answer.options:
        assert check_layout(layout, bag) == ()
        parts(layout.quilt, allowances=Allowances())
