"""A wish for a mixed layout, answered whole: layout, cloth, price and date."""

from __future__ import annotations

from typing import Any

from planner.layout import Layout, check_layout, mixed_layout
from planner.plan import plan
from planner.problems import Limit
from planner.units import INCH, Size, show_money

from .samples import CINDER_CROSS, FERNCLIFF, TODAY, answered, first, said, written

STRIPS = {"width": "1", "outer": True, "cornerstones": True}


def mixed(name: str, width: str, height: str, **change: Any) -> Any:
    """A brief of the docs with nothing laid out and a mixed layout of that size wished."""
    changed = written(name)
    changed.pop("quilt", None)
    changed["wish"] |= {"style": "mixed", "target": {"width": width, "height": height}, **change}
    return changed


def test_27_prints_are_laid_out_priced_and_dated_without_a_layout_in_the_brief() -> None:
    """Trade handbook S7: 90 by 80 of 27 prints, 27 blocks at $36 and 12 oversize prints at $12, no border."""
    brief, answer = answered(CINDER_CROSS, mixed(CINDER_CROSS, "90", "80", tolerance="0"))
    offer = first(answer)
    assert offer.layout.quilt.size == Size(90 * INCH, 80 * INCH)
    assert offer.layout.proved
    assert check_layout(offer.layout, brief.bag) == ()
    assert len(offer.shirts) == 27
    assert show_money(offer.pricing.net) == "1,116.00 USD"
    assert offer.promise is not None


def test_the_sashing_of_a_mixed_layout_is_cut_along_its_seams() -> None:
    changed = mixed(FERNCLIFF, "50", "66", sashings=[STRIPS])
    _, answer = answered(FERNCLIFF, changed, limit=Limit(effort=60))
    offer = first(answer)
    assert offer.layout.quilt.sashing is not None
    assert not offer.layout.quilt.sashing.cornerstones
    assert "sashing" in offer.cuts
    assert "cornerstone" not in offer.cuts


def test_where_no_mixed_layout_fits_it_is_said_why() -> None:
    changed = mixed(CINDER_CROSS, "60", "60", tolerance="0")
    _, answer = answered(CINDER_CROSS, changed, limit=Limit(effort=60))
    assert (answer.options, answer.chosen) == ((), None)
    assert "do not fill 60 × 60 in whole and in straight seams." in said(answer)


def test_layouts_found_before_are_answered_and_not_searched_for_again() -> None:
    brief, _ = answered(CINDER_CROSS, mixed(CINDER_CROSS, "90", "80", tolerance="0"))
    found = mixed_layout(brief.bag, brief.wish, limit=Limit(effort=60))
    assert isinstance(found, Layout)
    answer = plan(brief, today=TODAY[CINDER_CROSS], limit=Limit(effort=1), found=(found,))
    assert [offer.layout for offer in answer.options] == [found]


def test_layouts_found_before_stand_beside_the_even_grids() -> None:
    brief, grids = answered(FERNCLIFF)
    wide = mixed(FERNCLIFF, "50", "66")
    mixed_brief, mixed_answer = answered(FERNCLIFF, wide, limit=Limit(effort=60))
    found = first(mixed_answer).layout
    assert mixed_brief.bag == brief.bag
    answer = plan(brief, today=TODAY[FERNCLIFF], limit=Limit(effort=20), found=(found,))
    assert [o.layout for o in answer.options] == [found, *(o.layout for o in grids.options)]
