"""A plan with cloth from a customer's garment."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.materials import Cloth
from planner.plan import Offer, plan
from planner.problems import BadInput
from planner.units import INCH, Size

from .samples import FERNCLIFF, SHORT, TODAY, as_it_is, first

RECTANGLES = (Size(20 * INCH, 30 * INCH), Size(16 * INCH, 10 * INCH))


def with_trousers(*, fuse: str = "none", rectangles: tuple[Size, ...] = RECTANGLES) -> Offer:
    """The throw of Ferncliff, its sashing cut from a pair of trousers as far as they go."""
    brief, _ = as_it_is(FERNCLIFF)
    trousers = Cloth("trousers", "garment", rectangles[0].width, INCH, None, rectangles, fuse=fuse)
    asked = replace(brief, shelf=(*brief.shelf, trousers), gives={"sashing": "trousers"})
    return first(plan(asked, today=TODAY[FERNCLIFF], limit=SHORT))


def test_the_trousers_give_what_they_can_and_the_bolt_gives_the_rest():
    plain, shared = first(as_it_is(FERNCLIFF)[1]), with_trousers()
    given = sum(column.count for strip in shared.given["sashing"].strips for column in strip.columns)
    assert given > 0
    assert shared.given["sashing"].buy == 0
    assert shared.cuts["sashing"].used < plain.cuts["sashing"].used


def test_trousers_that_are_enough_leave_no_sashing_to_be_cut_from_a_bolt():
    shared = with_trousers(rectangles=(Size(60 * INCH, 90 * INCH),))
    assert "sashing" in shared.given
    assert not [problem for problem in shared.problems if "sashing" in problem.where]


def test_stretchy_cloth_in_the_sashing_counts_as_interfacing():
    def pieces(offer: Offer) -> int:
        return sum(option.pieces for option in offer.interfacing[:1])

    firm, stretchy = with_trousers(), with_trousers(fuse=with_trousers().interfacing[0].way)
    assert pieces(stretchy) > pieces(firm)


def test_a_garment_that_is_not_on_the_shelf_gives_nothing():
    brief, _ = as_it_is(FERNCLIFF)
    with pytest.raises(BadInput) as fault:
        replace(brief, gives={"sashing": "trousers"})
    assert fault.value.field == "gives.sashing"


def test_the_same_question_has_the_same_answer():
    assert with_trousers().given == with_trousers().given
