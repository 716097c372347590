"""What the maker's own terms come to: storage, rounds, calling off. Figures by hand unless named."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest

from planner.price import Keeps, Rounds, Settlement, Storage, called_off, rounds_beyond, storage
from planner.problems import BadInput
from planner.units import Money

READY = date(2027, 12, 18)


def usd(minor: int) -> Money:
    return Money(minor, "USD")


TERMS = Storage(30, usd(100), usd(6000))


@pytest.mark.parametrize(
    ("days", "due"),
    [(0, 0), (30, 0), (31, 100), (89, 5900), (90, 6000), (91, 6000), (246, 6000), (-5, 0)],
)
def test_storage_is_free_at_first_then_by_the_day_up_to_its_most(days, due):
    assert storage(TERMS, ready=READY, on=READY + timedelta(days)) == usd(due)


def test_a_quilt_left_for_246_days_owes_its_most():
    # Trade handbook, scenario of Christmas and silence: ready 18 Dec 2027, asked for on 20 Aug 2028.
    assert (date(2028, 8, 20) - READY).days == 246
    assert usd(15657) + storage(TERMS, ready=READY, on=date(2028, 8, 20)) == usd(21657)


@pytest.mark.parametrize(("changes", "due"), [(0, 0), (2, 0), (3, 2000), (5, 6000)])
def test_changes_beyond_those_in_the_price_cost_each(changes, due):
    assert rounds_beyond(Rounds(2, usd(2000)), changes=changes) == usd(due)


BY_STAGE = {
    "before cloth": Keeps(usd(2500)),
    "cloth bought": Keeps(usd(0), materials=True),
    "cut": Keeps(usd(0), share=Decimal(1)),
}


@pytest.mark.parametrize(
    ("stage", "settled"),
    [
        ("before cloth", (2500, 47576, 22538, 0)),
        ("cloth bought", (8700, 41376, 16338, 0)),
        ("cut", (50076, 0, 0, 25038)),
    ],
)
def test_calling_off_settles_by_the_stage_it_had_reached(stage, settled):
    found = called_off(BY_STAGE, stage=stage, agreed=usd(50076), paid=usd(25038), materials=usd(8700))
    assert found == Settlement(*map(usd, settled))


def test_never_more_is_kept_than_was_agreed():
    greedy = {"cut": Keeps(usd(10**6), share=Decimal(1), materials=True)}
    found = called_off(greedy, stage="cut", agreed=usd(500), paid=usd(500), materials=usd(100))
    assert found == Settlement(usd(500), usd(0), usd(0), usd(0))


def test_a_stage_nobody_knows_is_refused():
    with pytest.raises(BadInput):
        called_off(BY_STAGE, stage="quilted", agreed=usd(1), paid=usd(0), materials=usd(0))


@pytest.mark.parametrize("change", [{"free": -1}, {"a_day": usd(0)}, {"most": usd(99)}])
def test_storage_terms_that_make_no_sense_cannot_be_built(change):
    with pytest.raises(BadInput):
        replace(TERMS, **change)


@pytest.mark.parametrize("wrong", [{"share": Decimal("1.1")}, {"share": Decimal(-1)}, {"fee": usd(-1)}])
def test_what_is_kept_is_a_share_of_the_price(wrong):
    with pytest.raises(BadInput):
        Keeps(**{"fee": usd(0), **wrong})
