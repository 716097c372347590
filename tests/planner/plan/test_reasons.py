"""What cannot be done is answered with reasons, and soon."""

from __future__ import annotations

import sys
from collections.abc import Callable
from datetime import timedelta

import pytest

from planner.brief import read_brief
from planner.plan import Plan, plan
from planner.problems import BadInput, Impossible

from .samples import (
    FERNCLIFF,
    HARROW_BAY,
    SHORT,
    TODAY,
    answered,
    as_it_is,
    first,
    said,
    tees,
    written,
)


def calls(ask: Callable[[], object]) -> int:
    """How many calls of Python functions asking takes: a clock that runs alike everywhere."""
    count = 0

    def counted(frame: object, event: str, argument: object) -> None:
        nonlocal count
        count += event == "call"

    before = sys.getprofile()
    sys.setprofile(counted)
    try:
        ask()
    finally:
        sys.setprofile(before)
    return count


def test_a_day_already_past_is_refused_by_name() -> None:
    brief, _ = as_it_is(FERNCLIFF)
    with pytest.raises(BadInput) as fault:
        plan(brief, today=brief.due + timedelta(days=1))
    assert fault.value.field == "due"


def test_a_quilt_needed_today_is_answered() -> None:
    brief, _ = as_it_is(FERNCLIFF)
    answer = plan(brief, today=brief.due, limit=SHORT)
    assert "It fits by" in said(answer)
    assert first(answer).promise.day > (brief.due - brief.work.origin).days


def test_an_empty_bag_is_answered_with_what_to_do() -> None:
    _, answer = answered(HARROW_BAY, tees(0, 3, 4))
    assert (answer.options, answer.chosen) == ((), None)
    assert "There is no piece to lay out. Log at least one shirt" in said(answer)


def test_five_hundred_shirts_in_the_wish_for_a_throw_are_answered_at_once() -> None:
    changed = tees(500, 3, 4)
    brief = read_brief(changed)
    answers: list[Plan] = []
    taken = calls(lambda: answers.append(plan(brief, today=TODAY[HARROW_BAY], limit=SHORT)))
    assert answers[0].options == ()
    assert answers[0].chosen is None
    assert "500 blocks do not fill 50 × 66 in in even rows." in said(answers[0])
    assert taken < 5_000


def test_ten_times_the_shirts_take_far_less_than_the_square_of_the_work() -> None:
    few, many = read_brief(tees(50, 5, 10)), read_brief(tees(500, 20, 25))
    answers: list[Plan] = []
    base = calls(lambda: plan(few, today=TODAY[HARROW_BAY], limit=SHORT))
    taken = calls(lambda: answers.append(plan(many, today=TODAY[HARROW_BAY], limit=SHORT)))
    assert len(first(answers[0]).layout.quilt.cells) == 500
    assert taken < 60 * base
    assert "None of these gives the batting in one piece." in said(answers[0])  # 322 × 402 in


def test_a_wish_with_more_choices_than_anyone_can_look_at_stays_bounded() -> None:
    """Blocks of 1/4 in and a tolerance as large as the quilt: 120,000 counts of columns and rows."""
    changed = tees(12, 3, 4)
    changed["wish"] |= {"blocks": [{"width": "1/4", "height": "1/4"}], "tolerance": "45", "sashings": [None]}
    brief = read_brief(changed)
    assert calls(lambda: plan(brief, today=TODAY[HARROW_BAY], limit=SHORT)) < 50_000


def test_where_no_grid_fits_the_nearest_numbers_of_blocks_are_named() -> None:
    _, answer = answered(HARROW_BAY, tees(17, 3, 4))
    assert answer.options == ()
    assert "17 blocks do not fill 50 × 66 in in even rows." in said(answer)
    assert "It works with 11 or 12 blocks" in said(answer)


def test_a_size_no_block_comes_near_says_so() -> None:
    changed = tees(12, 3, 4)
    changed["wish"]["target"] = {"width": "5", "height": "5"}
    _, answer = answered(HARROW_BAY, changed)
    assert "No number of these blocks comes near 5 × 5 in." in said(answer)


def test_a_layout_on_point_is_asked_for_by_hand() -> None:
    changed = written(FERNCLIFF)
    changed["wish"]["style"] = "point"
    _, answer = answered(FERNCLIFF, changed)
    assert (answer.options, answer.chosen) == ((), None)
    assert "A point layout has to be laid out by hand." in said(answer)


def test_without_steps_no_day_is_named_and_the_rest_is_answered() -> None:
    changed = written(FERNCLIFF)
    changed["shop"]["steps"] = []
    _, answer = answered(FERNCLIFF, changed)
    offer = first(answer)
    assert offer.promise is None
    assert offer.why_not_earlier == ""
    assert "Nobody is named for the stages" in said(answer)
    assert offer.pricing.total.minor == 50718


def test_a_calendar_too_short_is_no_day_but_a_reason() -> None:
    changed = written(FERNCLIFF)
    changed["work"]["days"] = 30
    _, answer = answered(FERNCLIFF, changed)
    assert isinstance(first(answer).promise, Impossible)
    assert "It cannot be ready by Tue 13 Apr" in said(answer)


def test_a_calendar_that_ends_before_paid_work_is_due_names_no_day() -> None:
    """Queues 3 and 4 are due on 5 and 12 Apr: unseen, they would lose their place to this quilt."""
    changed = written(FERNCLIFF)
    changed["work"]["days"] = 20
    _, answer = answered(FERNCLIFF, changed)
    assert isinstance(first(answer).promise, Impossible)
    assert "The calendar ends on Sat 3 Apr 2027, before queue 3 and queue 4 must be done." in said(answer)


def test_a_role_without_cloth_is_named() -> None:
    changed = written(FERNCLIFF)
    del changed["wish"]["cloth"]["sashing"]
    _, answer = answered(FERNCLIFF, changed)
    assert "No cloth is chosen for the sashing." in said(answer)
    assert "sashing" not in first(answer).cuts


def test_a_cloth_that_does_not_reach_and_cannot_be_bought_is_named() -> None:
    changed = written(FERNCLIFF)
    gold = next(cloth for cloth in changed["shelf"] if cloth["id"] == "gold")
    gold |= {"price": None, "on_hand": [{"width": "10", "height": "2"}]}
    _, answer = answered(FERNCLIFF, changed)
    assert "cornerstone" not in first(answer).cuts
    assert any("gold" in problem.what or "gold" in problem.where for problem in answer.problems)
