"""Backs whose last panel is put together from pieces."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.materials import backing_options, pieced_backing_options
from planner.units import INCH

from .samples import cotton, inch, size

WITH = {"overhang": 4 * INCH, "seam_loss": INCH}


def least(quilt, cloth, least_panel=8 * INCH):
    options = pieced_backing_options(quilt, [cloth], least_panel=least_panel, **WITH)
    return min(option.length for option in options)


# Worked by hand on 41 in usable, an inch lost to each seam. 60 x 75 needs 68 x 83: two panels of 68 and 3 in
# more, cut over the width in two strips; 70 x 90 needs 78 x 98: two panels of 78 and two strips of 18.
@pytest.mark.parametrize(("quilt", "length"), [(size(60, 75), 142), (size(70, 90), 192)])
def test_a_narrow_last_panel_takes_two_strips_over_the_width(quilt, length):
    assert least(quilt, cotton(41), least_panel=0) == inch(length)


def test_a_sliver_of_3_in_is_made_8_in_that_are_seen():
    # 8 1/2 cut, half an inch of it in the seam: 136 + 2 x 8 1/2
    assert least(size(60, 75), cotton(41)) == inch(153)


def test_pieced_ways_take_less_than_whole_panels_and_name_their_pieces():
    cloth = cotton(41)
    whole = backing_options(size(60, 75), [cloth], least_panel=8 * INCH, **WITH)
    (first, *_) = pieced_backing_options(size(60, 75), [cloth], least_panel=8 * INCH, **WITH)
    assert first.length < whole[0].length
    assert (first.way, first.panels, first.pieced) == ("level", 3, 2)


def test_on_a_one_way_print_all_panels_stand_upright():
    one_way = replace(cotton(41), directional=True)
    options = pieced_backing_options(size(70, 100), [one_way], least_panel=8 * INCH, **WITH)
    assert all(option.way == "upright" for option in options)


def test_what_one_width_covers_is_never_pieced():
    assert pieced_backing_options(size(30, 40), [cotton(41)], least_panel=0, **WITH) == ()


@pytest.mark.parametrize("width", range(40, 110, 7))
@pytest.mark.parametrize("height", range(40, 110, 9))
def test_the_panels_reach_over_the_back(width, height):
    for each in pieced_backing_options(size(width, height), [cotton(41)], least_panel=8 * INCH, **WITH):
        breadth, length = (width, height) if each.way == "upright" else (height, width)
        segment = each.length - (each.panels - 1) * inch(length + 8)
        along = segment * each.pieced - (each.pieced - 1) * INCH
        over = each.pieced * inch(41) - (each.pieced - 1) * INCH
        assert max(along, over) >= inch(length + 8)
        assert (each.panels - 1) * inch(40) + inch(41) >= inch(breadth + 8)
