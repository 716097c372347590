"""Cloth from a garment: it gives what it can, and what stretches or is thin is fused before it is cut."""

from __future__ import annotations

import pytest

from planner.materials import (
    Cloth,
    CutPiece,
    CutPlan,
    Ribbon,
    behind_strips,
    check_cuts,
    interfacing_options,
    plan_cuts,
    share_out,
)
from planner.problems import BadInput
from planner.units import INCH, Rate

from .samples import EIGHTH, ONCE, inch, size

SASHING = CutPiece("sashing", inch("14 1/2"), inch("2 1/2"), 31)  # 3 by 4 blocks, sashed all round


def trousers(*rectangles, fuse="none", price=None) -> Cloth:
    on_hand = tuple(size(across, along) for across, along in rectangles)
    widest = max(each.width for each in on_hand)
    return Cloth("trousers", "garment", widest, INCH, price, on_hand, fuse=fuse)


def test_a_leg_gives_the_strips_that_its_rectangle_holds():
    # By hand: 20 in across hold one strip of 14 1/2, and 30 in hold twelve of 2 1/2.
    shared = share_out(trousers((20, 30)), [SASHING], limit=ONCE)
    assert shared.count == 12
    assert [item.count for item in shared.rest] == [19]


def test_two_legs_give_both_and_no_piece_lies_over_a_seam():
    shared = share_out(trousers((20, 30), (16, 10)), [SASHING], limit=ONCE)
    assert shared.count == 12 + 4


def test_what_it_gives_passes_the_independent_check():
    cloth = trousers((20, 30), (16, 11))
    shared = share_out(cloth, [SASHING, CutPiece("square", inch("2 1/2"), inch("2 1/2"), 20)], limit=ONCE)
    assert isinstance(shared.plan, CutPlan)
    assert check_cuts(cloth, shared.given, shared.plan) == ()
    assert shared.plan.buy == 0


def test_a_garment_that_is_large_enough_leaves_nothing_over_to_buy():
    shared = share_out(trousers((40, 60)), [SASHING], limit=ONCE)
    assert (shared.count, shared.rest) == (31, ())


def test_a_sleeve_too_small_for_any_strip_gives_none():
    shared = share_out(trousers((10, 12)), [SASHING], limit=ONCE)
    assert (shared.count, shared.rest, shared.plan) == (0, (SASHING,), None)


def test_joined_lengths_stay_with_the_other_cloth():
    binding = Ribbon("binding", inch("2 1/2"), inch(244))
    shared = share_out(trousers((40, 60)), [binding, SASHING], limit=ONCE)
    assert shared.rest == (binding,)


def test_a_line_of_text_is_one_strip():
    line = CutPiece("filler", inch(12), inch("4 1/2"), 3)
    shared = share_out(trousers((13, 5)), [line], limit=ONCE)
    assert (shared.count, shared.rest[0].count) == (1, 2)


def test_pieces_given_and_left_are_all_the_pieces():
    for wide in range(10, 44, 3):
        shared = share_out(trousers((wide, 33)), [SASHING], limit=ONCE)
        assert shared.count + sum(item.count for item in shared.rest) == SASHING.count


def test_nothing_is_bought_of_a_garment_even_if_it_had_a_price():
    shared = share_out(trousers((20, 30), price=Rate(1200, "USD", "yd")), [SASHING], limit=ONCE)
    assert shared.count == 12


def test_stretchy_cloth_has_interfacing_behind_every_strip():
    cloth = trousers((40, 60), fuse="light non-woven")
    plan = plan_cuts(cloth, [SASHING], limit=ONCE)
    assert isinstance(plan, CutPlan)
    behind = behind_strips(plan, cloth)
    assert sum(piece.across * piece.along * piece.count for piece in behind) == 31 * inch("14 1/2") * inch(
        "2 1/2"
    )
    roll = Cloth("roll", "light non-woven", inch(20), EIGHTH, Rate(220, "USD", "yd"))
    (option,) = interfacing_options((), [roll], limit=ONCE, behind={"light non-woven": behind})
    # By hand: turned, eight of 2 1/2 lie across a 20-in roll, so four rows of 14 1/2.
    assert (option.pieces, option.length) == (31, inch(58))


def test_a_long_strip_is_backed_edge_to_edge():
    cloth = trousers((40, 60), fuse="tricot")
    plan = plan_cuts(cloth, [CutPiece("long", inch(40), inch(3), 1)], limit=ONCE)
    sizes = sorted((piece.across, piece.count) for piece in behind_strips(plan, cloth))
    assert sizes == [(inch(4), 1), (inch(18), 2)]


@pytest.mark.parametrize("fuse", ["none", "sew-in"])
def test_firm_cloth_has_nothing_fused_behind(fuse):
    cloth = trousers((40, 60), fuse=fuse)
    plan = plan_cuts(cloth, [SASHING], limit=ONCE)
    assert behind_strips(plan, cloth) == ()


def test_an_interfacing_nobody_makes_is_refused():
    with pytest.raises(BadInput) as fault:
        trousers((20, 30), fuse="glue")
    assert fault.value.field == "fuse"
