"""What a plan promises of itself: sound offers, the day first, the same answer to the same question."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest

from planner.brief import Brief, as_json, read_brief
from planner.layout import check_layout
from planner.materials import check_cuts, parts
from planner.plan import plan
from planner.plan.booking import order_of, quilter_for
from planner.schedule import Promise, check_proof, check_timetable, with_order
from planner.units import INCH

from .samples import (
    CINDER_CROSS,
    FERNCLIFF,
    HARROW_BAY,
    NAMES,
    SHORT,
    TODAY,
    answered,
    as_it_is,
    first,
    minutes,
    said,
    tees,
    written,
)

# Sound offers


@pytest.mark.parametrize("name", NAMES)
def test_every_offer_lays_out_soundly(name: str) -> None:
    brief, answer = as_it_is(name)
    assert [check_layout(offer.layout, brief.bag) for offer in answer.options] == [()] * len(answer.options)


@pytest.mark.parametrize("name", NAMES)
def test_every_cut_plan_of_every_offer_is_sound(name: str) -> None:
    brief, answer = as_it_is(name)
    shelf = {cloth.id: cloth for cloth in brief.shelf}
    checked = 0
    for offer in answer.options:
        items = parts(offer.layout.quilt, allowances=brief.shop.allowances)
        assert set(items) == set(offer.cuts)
        for id in {offer.layout.quilt.cloth[role] for role in items}:
            roles = [role for role in items if offer.layout.quilt.cloth[role] == id]
            together = [item for role in roles for item in items[role]]
            assert check_cuts(shelf[id], together, offer.cuts[roles[0]]) == ()
            checked += 1
    assert checked >= 1


@pytest.mark.parametrize("name", NAMES)
def test_every_promise_has_a_timetable_that_works_and_a_proof_that_adds_up(name: str) -> None:
    brief, answer = as_it_is(name)
    for offer in answer.options:
        out = quilter_for(offer.layout.quilt, brief)
        order = order_of(brief, offer.minutes, out=out, today=TODAY[name])
        joined = with_order(brief.work, order)
        assert isinstance(offer.promise, Promise)
        assert check_timetable(joined, offer.promise.timetable) == ()
        assert check_proof(joined, offer.promise.proof) == ()
        assert offer.why_not_earlier == offer.promise.proof.words(joined)


@pytest.mark.parametrize("name", NAMES)
def test_the_work_on_the_calendar_is_the_work_that_was_estimated(name: str) -> None:
    _, answer = as_it_is(name)
    offer = first(answer)
    mine = [stint for stint in offer.promise.timetable.stints if stint.stage.startswith("this quilt")]
    assert sum(stint.minutes for stint in mine) == minutes(offer) > 0


# Which offer comes first


def test_the_offer_put_first_keeps_the_day() -> None:
    brief, answer = as_it_is(FERNCLIFF)
    keeps = [
        brief.work.date_of(offer.promise.day) <= brief.due - timedelta(days=2) for offer in answer.options
    ]
    assert keeps[answer.chosen]
    assert not any(keeps[: answer.chosen])


def test_an_offer_that_misses_the_day_gives_way_to_one_that_keeps_it() -> None:
    """A laid-out quilt larger than the frame goes out for weeks; the even grid stays in the house."""
    changed = written(FERNCLIFF)
    changed["shop"]["quilter"] |= {"over": "64", "days": 60}
    changed["wish"]["blocks"] = [{"width": "14", "height": "14"}]
    brief, answer = answered(FERNCLIFF, changed)
    assert [offer.goes_out for offer in answer.options] == [True, False]  # 66 and 63 1/2 in high
    assert answer.chosen == 1
    assert brief.work.date_of(answer.options[0].promise.day) > brief.due
    assert "wanted by" not in said(answer)


def test_where_none_keeps_the_day_the_first_is_put_first_and_says_so() -> None:
    _, answer = as_it_is(HARROW_BAY)
    assert answer.chosen == 0
    assert "It fits by" in said(answer)


def test_a_quilt_already_laid_out_is_the_first_offer() -> None:
    brief, answer = as_it_is(CINDER_CROSS)
    assert answer.options[0].layout.quilt == brief.quilt
    assert answer.options[0].layout.scope == "as laid out in the brief"


def test_a_quilt_already_laid_out_stands_before_the_even_grids() -> None:
    brief, answer = as_it_is(FERNCLIFF)
    laid_out = answer.options[1].layout.quilt  # the smaller one
    again = plan(with_quilt(brief, laid_out), today=TODAY[FERNCLIFF], limit=SHORT)
    assert again.options[0].layout.quilt == laid_out
    assert [offer.layout.quilt for offer in again.options[1:]] == [o.layout.quilt for o in answer.options]
    assert [each.piece for each in again.options[0].layout.left_out] == ["05F"]


def with_quilt(brief: Brief, quilt: Any) -> Brief:
    return Brief(**{name: getattr(brief, name) for name in vars(brief) if name != "quilt"}, quilt=quilt)


def test_there_are_never_more_than_four_offers() -> None:
    changed = tees(12, 3, 4)
    changed["wish"] |= {"tolerance": "30", "sashings": [None, *written(FERNCLIFF)["wish"]["sashings"]]}
    _, answer = answered(HARROW_BAY, changed)
    assert len(answer.options) == 4


# Who quilts


def test_a_quilt_too_large_for_the_frame_goes_out_and_waits_for_its_return() -> None:
    _, answer = as_it_is(HARROW_BAY)
    offer = first(answer)
    assert offer.goes_out
    assert {each.stage: each.minutes for each in offer.minutes}["quilt"] == 30
    stints = offer.promise.timetable.stints
    left = max(stint.day for stint in stints if stint.stage == "this quilt: quilt")
    back = min(stint.day for stint in stints if stint.stage == "this quilt: bind")
    assert back - left >= 14


def test_a_quilt_as_large_as_the_frame_stays_in_the_house() -> None:
    _, answer = as_it_is(FERNCLIFF)
    offer = first(answer)
    assert max(vars(offer.layout.quilt.size).values()) == 66 * INCH  # the quilter's `over`
    assert not offer.goes_out
    assert {each.stage: each.minutes for each in offer.minutes}["quilt"] == 163  # 60 + 4.5 × 22.9 sq ft


def test_the_outside_quilter_is_paid_out_of_what_the_hour_brings() -> None:
    changed = written(HARROW_BAY)
    changed["shop"]["quilter"]["least"] = "300.00"
    dear = first(answered(HARROW_BAY, changed)[1]).pricing
    usual = first(as_it_is(HARROW_BAY)[1]).pricing
    assert dear.total == usual.total
    assert usual.hour.minor - dear.hour.minor == pytest.approx((30000 - 10824) * 60 / 1006, abs=1)


# The same question, the same answer


SHUFFLED = {
    "garments": lambda brief: brief["bag"]["garments"],
    "pieces": lambda brief: brief["bag"]["pieces"],
    "shelf": lambda brief: brief["shelf"],
    "sashings": lambda brief: brief["wish"]["sashings"],
    "steps": lambda brief: brief["shop"]["steps"],
    "people": lambda brief: brief["work"]["people"],
    "dues": lambda brief: brief["work"]["dues"],
    "stages": lambda brief: brief["work"]["stages"],
}


@pytest.mark.parametrize("part", SHUFFLED)
@pytest.mark.parametrize("seed", range(3))
def test_the_order_things_are_named_in_changes_nothing(part: str, seed: int) -> None:
    changed = written(FERNCLIFF)
    things = SHUFFLED[part](changed)
    things[:] = [*random.Random(seed).sample(things[1:], len(things) - 1), things[0]]
    assert as_json(answered(FERNCLIFF, changed)[1]) == as_json(answered(FERNCLIFF)[1])


@pytest.mark.parametrize("name", NAMES)
def test_asked_twice_it_answers_the_same(name: str) -> None:
    assert as_json(answered(name)[1]) == as_json(answered(name)[1])


def test_nothing_passed_in_is_altered() -> None:
    brief = read_brief(written(FERNCLIFF))
    before = as_json(brief)
    plan(brief, today=TODAY[FERNCLIFF], limit=SHORT)
    assert as_json(brief) == before


def test_a_metric_shop_is_told_in_centimeters() -> None:
    changed = written(FERNCLIFF) | {"unit": "cm"}
    inches_to_names(changed)
    _, answer = answered(FERNCLIFF, changed)
    notes = " ".join(first(answer).layout.notes)
    assert "07: Add strips of about 2.5 cm top and bottom." in notes
    assert " in " not in notes.replace(" in one block", "")


def inches_to_names(node: Any) -> None:
    """Write every bare length of a brief with its inches: 14 becomes 14 in."""
    lengths = {"width", "height", "top", "right", "bottom", "left", "usable", "tolerance", "margin", "over"}
    for key, value in node.items() if isinstance(node, dict) else enumerate(node):
        if isinstance(value, dict | list):
            inches_to_names(value)
        elif key in lengths and not value.endswith(("yd", "in")):
            node[key] = f"{value} in"


def test_a_print_cut_by_a_layout_of_her_own_is_asked_about_once() -> None:
    brief, answer = as_it_is(FERNCLIFF)
    own = replace(brief, quilt=first(answer).layout.quilt)
    drawn = plan(own, today=TODAY[FERNCLIFF], limit=SHORT).options[0]
    assert drawn.layout.cropped == ("12",)
    about_12 = [problem.what for problem in drawn.problems if "12" in problem.where]
    assert about_12 == ["The block cuts into the print of 12."]
