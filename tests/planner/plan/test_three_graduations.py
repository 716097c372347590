"""Scenario S2 of the trade handbook (section 8): three graduations in one week, Harrow Bay.

Tolerances: minutes 2 %, yardage one step of the store, money to the cent, an hour's take 1 %.
"""

from __future__ import annotations

from datetime import date

import pytest

from planner.plan.booking import order_of, quilter_for
from planner.problems import Limit
from planner.schedule import Proof, check_proof, check_timetable, feasible, with_order
from planner.units import INCH, Money, Size

from .samples import (
    HARROW_BAY,
    answered,
    as_it_is,
    first,
    minutes,
    written,
)  # fmt: skip


def in_inches(size: Size) -> tuple[int, int]:
    return size.width // INCH, size.height // INCH


def test_harrow_bay_a_takes_the_printed_minutes_and_money():
    _, answer = as_it_is(HARROW_BAY)
    offer = first(answer)
    assert in_inches(offer.layout.quilt.size) == (66, 82)
    assert minutes(offer) == pytest.approx(1006, rel=0.02)
    assert [line.amount.minor for line in offer.pricing.lines] == [72000, 6000, 1200]  # 780 + 12
    assert offer.goes_out


def test_harrow_bay_a_in_a_rush_costs_a_quarter_more():
    changed = written(HARROW_BAY)
    changed["shop"]["terms"]["rush"] = "0.25"
    _, answer = answered(HARROW_BAY, changed)
    assert first(answer).pricing.lines[-1].amount == Money(198_00, "USD")
    assert first(answer).pricing.net == Money(990_00, "USD")


def test_harrow_bay_a_cannot_be_ready_by_20_may():
    brief, answer = as_it_is(HARROW_BAY)
    promised = first(answer).promise
    due = (brief.due - brief.work.origin).days
    assert promised.day >= promised.not_before > due
    assert any("wanted by Thu 20 May 2027" in problem.what for problem in answer.problems)
    joined = with_order(brief.work, joining(brief, first(answer)))
    assert check_proof(joined, promised.proof) == ()
    assert check_timetable(joined, promised.timetable) == ()


def test_harrow_bay_clashes_by_62_hours_against_66():
    """Handbook S2: 50 + 12 = 62 h of capacity to 8 May, 28.1 h of tops and 38 h owed: 66.1 h."""
    brief, answer = as_it_is(HARROW_BAY)
    joined = with_order(brief.work, joining(brief, first(answer)))
    due = (brief.due - brief.work.origin).days
    proof = feasible(joined, {"this quilt": due}, limit=Limit(effort=20))
    assert isinstance(proof, Proof)
    assert check_proof(joined, proof) == ()
    assert (proof.capacity, proof.demand) == (3720, 3967)
    words = proof.words(joined)
    assert "3,720 minutes (62 h)" in words
    assert "3,967 minutes (about 66.1 h)" in words


def joining(brief, offer):
    return order_of(brief, offer.minutes, out=quilter_for(offer.layout.quilt, brief), today=date(2027, 4, 24))


@pytest.mark.parametrize(
    ("side", "border", "work", "net", "rush", "out"),
    [(4, 4, 1006, 621, 155, None), (5, 0, 1050, 900, 225, 98)],
    ids=["B, the grandparent", "C, the band boosters"],
)
def test_harrow_bay_b_and_c_take_the_printed_minutes_and_money(side, border, work, net, rush, out):
    """B is 64 × 64 on the shop's frame, C 70 × 70 at the outside quilter's."""
    brief, answer = answered(HARROW_BAY, grid_of(side, border))
    offer = first(answer)
    assert in_inches(offer.layout.quilt.size) == (side * 14 + 2 * border,) * 2
    assert minutes(offer) == pytest.approx(work, rel=0.02)
    assert offer.pricing.net == Money((net + rush) * 100, "USD")
    quilter = quilter_for(offer.layout.quilt, brief)
    charge = quilter.charge(offer.layout.quilt.size.area) if quilter else None
    assert charge == (Money(out * 100, "USD") if out else None)


def grid_of(side: int, border: int):
    """Harrow Bay's brief for so many cotton tees a side, in a rush."""
    changed = written(HARROW_BAY)
    garment, piece = changed["bag"]["garments"][0], changed["bag"]["pieces"][0]
    ids = [f"{number:02d}" for number in range(1, side * side + 1)]
    changed["bag"] = {
        "garments": [garment | {"id": id} for id in ids],
        "pieces": [piece | {"id": id, "garment": id} for id in ids],
    }
    whole = str(side * 14 + 2 * border)
    sides = dict.fromkeys(("top", "right", "bottom", "left"), str(border))
    changed["wish"] |= {
        "target": {"width": whole, "height": whole},
        "sashings": [None],
        "borders": [{"widths": sides}] if border else [None],
        "cloth": {"border": "navy", "binding": "navy"},
    }
    changed["shop"]["terms"]["rush"] = "0.25"
    return changed
