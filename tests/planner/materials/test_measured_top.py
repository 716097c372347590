"""Measured sides replace the reckoned ones; 1/4 in more a block is what wide seams make (common practice)."""

from __future__ import annotations

import pytest

from planner.materials import Allowances, MeasuredTop, measured_parts, measured_size, parts
from planner.problems import BadInput

from .samples import BOUND, border, grid, inch, sash, size

QUILT = grid(3, 4, 14, sashing=sash(2), borders=[border(4)], binding=BOUND)  # center 50 × 66, top 58 × 74


def lengths(measured: MeasuredTop) -> dict[str, int]:
    found = measured_parts(QUILT, measured, allowances=Allowances())
    return {item.name: item.length for items in found.values() for item in items}


def test_nothing_measured_leaves_every_part_as_it_was_reckoned():
    reckoned = parts(QUILT, allowances=Allowances())
    found = measured_parts(QUILT, MeasuredTop(), allowances=Allowances())
    assert found == {role: reckoned[role] for role in ("border", "binding")}
    assert measured_size(QUILT, MeasuredTop()) == QUILT.size


def test_borders_are_cut_to_the_measured_center():
    found = lengths(MeasuredTop(center=size("50", "67")))  # raw, so finished 49 1/2 × 66 1/2
    assert found["border left"] == inch(67)
    assert found["border top"] == inch("57 1/2") + inch("1/2")


def test_what_the_borders_add_carries_a_measured_center_to_back_and_binding():
    found = measured_size(QUILT, MeasuredTop(center=size("50", "67")))
    assert found == size("57 1/2", "74 1/2")
    assert lengths(MeasuredTop(center=size("50", "67")))["binding"] == inch(2 * (57 + 74) + 2 + 12)


def test_a_measured_top_decides_binding_and_size_and_leaves_the_borders():
    measured = MeasuredTop(top=size("59 1/2", "75 1/2"))
    assert measured_size(QUILT, measured) == size(59, 75)
    assert lengths(measured)["binding"] == inch(2 * (59 + 75) + 12)
    assert lengths(measured)["border left"] == lengths(MeasuredTop())["border left"]


@pytest.mark.parametrize("raw", [size(30, 67), size("50 1/2", 90), size("1/2", "66 1/2")])
def test_a_side_far_from_the_reckoned_one_was_misread_and_is_refused(raw):
    with pytest.raises(BadInput):
        measured_size(QUILT, MeasuredTop(center=raw))
