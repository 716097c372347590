"""Does the print sit whole in the block? Pieces of scenario S1 (trade handbook, section 8)."""

from dataclasses import replace

import pytest

from planner.layout import fit
from planner.quilt import Piece
from planner.units import INCH, MM, Rect, Sides, Size

BLOCK = Size(14 * INCH, 14 * INCH)
HALF = INCH // 2


def inches(*values: float) -> tuple[int, ...]:
    exact = [value * INCH for value in values]
    assert all(each == int(each) for each in exact)
    return tuple(int(each) for each in exact)


def size(width: float, height: float) -> Size:
    return Size(*inches(width, height))


def piece(print_size: Size, *free: float, cut: Size | None = None) -> Piece:
    return Piece("p", "g", "front", print_size, Sides(*inches(*free)), "plastisol", cut=cut)


def test_a_print_with_its_margins_and_enough_cloth_fits_and_sits_in_the_middle() -> None:
    answer = fit(piece(size(11, 13), 3, 4.5, 7, 4.5), BLOCK, margin=HALF)
    assert answer.ok
    assert answer.crop == Rect(*inches(-1.5, -0.5, 14, 14))
    assert answer.remedies == ()


def test_a_print_near_the_collar_moves_down_in_the_block_before_it_is_refused() -> None:
    answer = fit(piece(size(9, 11), 1, 4, 7, 4), BLOCK, margin=HALF)
    assert answer.ok
    assert answer.crop.y == -inches(0.75)[0]


def test_a_youth_shirt_gets_strips_top_and_bottom() -> None:
    """S1, 07: cloth 14 1/2 by 12 1/2; trim to 12 1/2 high, 1 in top and bottom."""
    answer = fit(piece(size(9, 11), 0.75, 2.75, 0.75, 2.75), BLOCK, margin=HALF)
    assert not answer.ok
    first = answer.remedies[0]
    assert first.kind == "frame"
    assert first.frame == Sides(*inches(1, 0, 1, 0))
    assert answer.crop.size == size(14, 12)


def test_a_fitted_shirt_gets_strips_alike_all_round() -> None:
    """S1, 11: cloth 12 1/2 by 14; trim to 12 1/2 square, 1 in all round."""
    answer = fit(piece(size(8, 8), 2, 2.25, 4, 2.25), BLOCK, margin=HALF)
    first = answer.remedies[0]
    assert first.kind == "frame"
    assert first.frame == Sides.all_round(INCH)
    assert first.words == "Add strips of 1 in all round."


def test_strips_are_never_narrower_than_half_an_inch() -> None:
    answer = fit(piece(size(8, 8), 2.9375, 2.9375, 2.9375, 2.9375), BLOCK, margin=HALF)
    strips = answer.remedies[0].frame
    assert {strips.top, strips.right, strips.bottom, strips.left} == {HALF}


def test_a_print_as_tall_as_the_block_is_not_called_whole_with_its_margin() -> None:
    """S1, 04: 11 by 14 has no margin at all in a 14-in block."""
    answer = fit(piece(size(11, 14), 3, 4.5, 7, 4.5), BLOCK, margin=HALF)
    assert [remedy.kind for remedy in answer.remedies] == ["taller", "crop"]
    assert answer.remedies[0].block == size(14, 15)
    assert answer.remedies[1].words == "Keep it whole with less than 1/2 in to the seam. Ask first."


def test_a_print_taller_than_the_block_asks_for_a_taller_one_or_leave_to_cut_it() -> None:
    """S1, 12: 12 by 15 in a 14-in block."""
    answer = fit(piece(size(12, 15), 3, 4.5, 6, 4.5), BLOCK, margin=HALF)
    assert [remedy.kind for remedy in answer.remedies] == ["taller", "crop"]
    assert answer.remedies[0].block == size(14, 16)
    assert answer.remedies[1].words == "Cut into the print: it loses 1 in of its height. Ask first."


def test_a_small_print_on_little_cloth_may_share_a_block() -> None:
    answer = fit(piece(size(3.5, 3.5), 1, 1, 1, 1), BLOCK, margin=HALF)
    assert [remedy.kind for remedy in answer.remedies] == ["frame", "composite", "smaller"]
    assert answer.remedies[2].block == size(5, 5)


def test_a_garment_with_less_cloth_than_two_seams_fits_nowhere() -> None:
    answer = fit(piece(Size(0, 0), 0.125, 0.125, 0.125, 0.125), BLOCK, margin=HALF)
    assert not answer.ok
    assert answer.remedies == ()


def test_a_piece_already_cut_keeps_its_size_and_gets_strips() -> None:
    answer = fit(piece(size(8, 8), 3, 3, 3, 3, cut=size(12.5, 12.5)), BLOCK, margin=HALF)
    assert answer.remedies[0].frame == Sides.all_round(INCH)
    larger = replace(piece(size(8, 8), 3, 3, 3, 3), cut=size(16, 16))
    assert not fit(larger, BLOCK, margin=HALF).ok


@pytest.mark.parametrize("seam", [INCH // 4, INCH // 2])
def test_the_seam_is_taken_from_the_free_cloth(seam: int) -> None:
    exactly = Piece("p", "g", "front", size(12, 12), Sides.all_round(INCH + seam), "plastisol")
    assert fit(exactly, BLOCK, margin=HALF, seam=seam).ok
    short = replace(exactly, free=Sides.all_round(INCH + seam - 1))
    assert not fit(short, BLOCK, margin=HALF, seam=seam).ok


def test_a_metric_shop_is_offered_blocks_in_whole_centimeters() -> None:
    """A print 28 by 37 cm with 1 cm round it wants 39 cm of height; in inches it would be 15 1/2."""
    tall = Piece("p", "g", "front", Size(280 * MM, 370 * MM), Sides.all_round(100 * MM), "plastisol")
    square = Size(350 * MM, 350 * MM)
    answer = fit(tall, square, margin=10 * MM, unit="cm")
    assert answer.remedies[0].block == Size(350 * MM, 390 * MM)
    assert [each.words for each in answer.remedies] == [
        "Give it a block of 35 × 39 cm.",
        "Cut into the print: it loses 2 cm of its height. Ask first.",
    ]


def test_strips_of_a_metric_shop_are_told_in_centimeters() -> None:
    small = Piece("p", "g", "front", Size(200 * MM, 200 * MM), Sides.all_round(60 * MM), "plastisol")
    answer = fit(small, Size(360 * MM, 360 * MM), margin=10 * MM, seam=10 * MM, unit="cm")
    assert answer.remedies[0].words == "Add strips of 3 cm all round."


def test_plain_cloth_is_not_taken_for_a_small_print() -> None:
    plain = Piece("p", "g", "back", Size(0, 0), Sides.all_round(7 * INCH), "none")
    assert [remedy.kind for remedy in fit(plain, BLOCK, margin=HALF).remedies] == ["frame", "smaller"]


def test_a_print_is_not_called_whole_where_it_may_be_larger_than_it_was_measured() -> None:
    """11 by 13 in a 14-in block with 1/2 in round it: exactly, so a sixteenth either way is too much."""
    exact = piece(size(11, 13), 3, 4.5, 7, 4.5)
    assert fit(exact, BLOCK, margin=HALF).ok
    measured = replace(exact, plus_minus=INCH // 16)
    answer = fit(measured, BLOCK, margin=HALF)
    assert not answer.ok
    assert [remedy.kind for remedy in answer.remedies] == ["taller", "crop"]
    assert answer.remedies[1].words == (
        "Measure it again: at ± 1/16 in it may come nearer than 1/2 in to the seam."
        " Or keep it so, and ask first."
    )


@pytest.mark.parametrize("margin", [0, INCH // 16, INCH // 8])
def test_a_print_measured_to_a_quarter_is_never_promised_whole_with_less_margin(margin: int) -> None:
    quarter = INCH // 4
    for side in range(12 * INCH, 14 * INCH + 1, INCH // 16):
        measured = replace(piece(Size(side, side), 3, 3, 3, 3), plus_minus=quarter)
        answer = fit(measured, BLOCK, margin=margin)
        assert answer.ok == (2 * quarter + side <= BLOCK.width)


def test_the_largest_it_may_be_keeps_its_margin_whenever_it_is_called_whole() -> None:
    for off in (INCH // 16, INCH // 8, INCH // 4, INCH):
        for side in range(9 * INCH, 14 * INCH, INCH // 8):
            measured = replace(piece(Size(side, side), 4, 4, 4, 4), plus_minus=off)
            largest = replace(measured, print_size=Size(side + off, side + off), plus_minus=0)
            if fit(measured, BLOCK, margin=HALF).ok:
                assert fit(largest, BLOCK, margin=HALF).ok


def test_a_taller_block_is_offered_for_the_largest_it_may_be() -> None:
    measured = replace(piece(size(12, 13), 3, 4.5, 6, 4.5), plus_minus=INCH // 2)
    answer = fit(measured, BLOCK, margin=HALF)
    assert answer.remedies[0].block == size(14, 14.5)


def test_what_is_kept_is_moved_as_far_as_was_asked_and_the_cloth_allows() -> None:
    plain = piece(size(8, 8), 3, 4, 6, 4)
    moved = replace(plain, shift=Sides(*inches(0, 0.5, 0, 0)))
    assert fit(moved, BLOCK, margin=HALF).crop.x == fit(plain, BLOCK, margin=HALF).crop.x + HALF
    far = replace(plain, shift=Sides(*inches(0, 0, 20, 0)))
    answer = fit(far, BLOCK, margin=HALF)
    assert answer.crop.bottom == inches(8 + 6 - 0.25)[0]


def test_a_print_moved_to_the_edge_of_its_block_has_lost_its_margin() -> None:
    wide = piece(size(11, 11), 3, 4, 6, 4)
    assert fit(wide, BLOCK, margin=HALF).ok
    aside = replace(wide, shift=Sides(*inches(0, 0, 0, 1.25)))
    answer = fit(aside, BLOCK, margin=HALF)
    assert not answer.ok
    assert answer.remedies[0].words == "Set it back to its middle, and it fits."
    assert answer.remedies[-1].kind == "crop"


def pocket(id: str, width: float, height: float) -> Piece:
    return replace(piece(size(width, height), 1, 1, 1, 1), id=id, garment=id)


def test_a_small_print_is_told_which_others_would_share_its_block() -> None:
    """Four of 5 by 6 with 1/2 in round them: 6 by 7 each, two by two in 14."""
    others = [pocket(id, 5, 6) for id in ("07P", "03F", "11F")]
    answer = fit(pocket("02P", 5, 6), BLOCK, margin=HALF, others=others)
    shared = next(each for each in answer.remedies if each.kind == "composite")
    assert shared.others == ("03F", "07P", "11F")
    assert shared.words == "Put it in one block with 03F, 07P and 11F."


def test_only_others_that_sit_in_the_block_with_it_are_named() -> None:
    others = [pocket("03F", 6, 6), pocket("04F", 6, 6), pocket("12B", 12, 12), pocket("05P", 1, 11)]
    shared = [
        each for each in fit(pocket("02P", 6, 6), BLOCK, margin=HALF, others=others).remedies if each.others
    ]
    assert shared[0].others == ("03F", "04F")


def test_a_piece_that_is_out_or_cut_already_shares_no_block() -> None:
    out, cut = replace(pocket("03F", 5, 5), wanted="out"), replace(pocket("04F", 5, 5), cut=size(6, 6))
    answer = fit(pocket("02P", 5, 5), BLOCK, margin=HALF, others=[out, cut])
    shared = next(each for each in answer.remedies if each.kind == "composite")
    assert shared.others == ()
    assert shared.words == "Put it in one block with other small prints."


def test_strips_of_ties_share_a_block_too() -> None:
    ties = [
        Piece(f"{n:02d}T", f"g{n}", "blade", Size(0, 0), Sides(*inches(4.5, 1.5, 4.5, 1.5)), "none")
        for n in range(4)
    ]
    answer = fit(ties[0], size(12, 12), margin=HALF, others=ties)
    shared = next(each for each in answer.remedies if each.kind == "composite")
    assert shared.others == ("01T", "02T", "03T")
