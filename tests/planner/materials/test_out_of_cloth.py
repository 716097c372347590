"""What cannot be cut is said to be impossible only where no layout could do it."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from planner.materials import CutPiece, CutPlan, check_cuts, plan_cuts
from planner.problems import Impossible, Undecided
from planner.units import INCH

from .samples import ONCE, cotton, inch, remnant, ribbon, squares


def test_a_piece_wider_than_the_cloth_is_impossible_and_named():
    answer = plan_cuts(cotton(40), [squares("41", 1), CutPiece("small", inch(4), inch(4), 1)], limit=ONCE)
    assert isinstance(answer, Impossible)
    (problem,) = answer.problems
    assert "square" in problem.what
    assert "wider cloth" in problem.change
    assert problem.figures == {"piece": inch(41), "usable": inch(40)}


def test_too_little_on_hand_of_cloth_that_cannot_be_bought_is_impossible_with_ways_out():
    answer = plan_cuts(remnant(40, 12), [squares("5", 17)], limit=ONCE)
    assert isinstance(answer, Impossible)
    (problem,) = answer.problems
    assert problem.change.count(",") == 2
    assert problem.figures["missing"] > 0


def test_scraps_too_narrow_for_a_piece_are_impossible():
    assert isinstance(plan_cuts(remnant(10, 100), [squares("12", 1)], limit=ONCE), Impossible)


def test_what_a_cleverer_plan_could_still_cut_is_never_called_impossible():
    # 6 + 3 + 3 and 4 + 4 + 4 fill two strips of 12; widest first makes three
    pieces = [CutPiece(side, inch(side), inch(5), count) for side, count in (("6", 1), ("4", 3), ("3", 2))]
    answer = plan_cuts(remnant(12, 10), pieces, limit=ONCE)
    if isinstance(answer, CutPlan):
        assert check_cuts(remnant(12, 10), pieces, answer) == ()
    else:
        assert isinstance(answer, Undecided)
        assert answer.bound == 0
        assert answer.problems[0].change


def test_short_pieces_that_could_lie_beside_tall_ones_are_never_called_impossible():
    pieces = [CutPiece("tall", inch(20), inch(5), 1), CutPiece("short", inch(20), inch("2 1/2"), 1)]
    assert not isinstance(plan_cuts(remnant(40, 5), pieces, limit=ONCE), Impossible)


@given(st.lists(st.tuples(st.integers(1, 12), st.integers(1, 12)), min_size=1, max_size=9))
def test_what_a_sheet_was_cut_into_is_never_called_impossible(cuts):
    # cut a sheet of 40 x 30 in by straight cuts into pieces, then ask for just these pieces
    free, pieces = [(40, 30)], []
    for across, along in cuts:
        width, height = free.pop(0)
        across, along = min(across, width), min(along, height)
        pieces.append(CutPiece(f"p{len(pieces)}", across * INCH, along * INCH, 1))
        rest = [(width - across, along), (width, height - along)]
        free = sorted([*free, *(each for each in rest if 0 not in each)], reverse=True)
        if not free:
            break
    assert not isinstance(plan_cuts(remnant(40, 30), pieces, limit=ONCE), Impossible)


def test_a_ribbon_on_cloth_too_narrow_to_join_is_impossible():
    answer = plan_cuts(remnant("5", 90), [ribbon("2 1/2", 60)], limit=ONCE)
    assert isinstance(answer, Impossible)
