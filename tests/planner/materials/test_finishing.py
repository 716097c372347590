"""Sleeve and label: a 9-in strip for a 4-in sleeve is common practice; no printed source was found."""

from __future__ import annotations

import pytest

from planner.materials import Allowances, hanging_sleeve, label
from planner.problems import BadInput

from .samples import inch, size

SEAM = inch("1/4")


def test_a_sleeve_of_4_in_is_cut_9_in_high_and_hemmed_at_both_ends():
    sleeve = hanging_sleeve(size(58, 74), allowances=Allowances(), seam=SEAM)
    assert (sleeve.width, sleeve.length) == (inch(9), inch(58))


def test_a_sleeve_ends_before_the_sides_and_its_joins_take_two_seams():
    sleeve = hanging_sleeve(size(80, 80), allowances=Allowances(), seam=SEAM, depth=inch(3))
    assert sleeve.width == inch(7)
    assert sleeve.length - inch(2) < inch(80)
    assert sleeve.loss == inch("1/2")


def test_a_label_has_a_seam_to_turn_under_all_round():
    piece = label(seam=SEAM)
    assert (piece.across, piece.along, piece.count) == (inch("6 1/2"), inch("4 1/2"), 1)


def test_a_sleeve_of_no_depth_is_refused():
    with pytest.raises(BadInput):
        hanging_sleeve(size(58, 74), allowances=Allowances(), seam=SEAM, depth=0)
