"""The quilt that is drawn, answered by itself: as the first offer of a plan, and nothing else looked at."""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import timedelta

import pytest

from planner.plan import answer_drawn, plan
from planner.problems import BadInput, Limit

from .samples import FERNCLIFF, as_it_is, first
from .samples import TODAY as DAYS

LIMIT = Limit(effort=20)
TODAY = DAYS[FERNCLIFF]


def drawn():
    brief, answer = as_it_is(FERNCLIFF)
    return replace(brief, quilt=first(answer).layout.quilt)


def test_it_is_the_first_offer_of_the_plan() -> None:
    brief = drawn()
    assert answer_drawn(brief, today=TODAY, limit=LIMIT) == plan(brief, today=TODAY, limit=LIMIT).options[0]


def test_no_other_layout_is_looked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    for search in ("mixed_layout", "grid_options"):
        module = sys.modules["planner.plan.plan"]  # the function of the same name stands before it
        monkeypatch.setattr(module, search, lambda *_, **__: pytest.fail("looked for another"))
    brief = drawn()
    for style in ("mixed", "grid", "point"):
        wish = replace(brief.wish, style=style)
        assert answer_drawn(replace(brief, wish=wish), today=TODAY, limit=LIMIT).layout.quilt == brief.quilt


def test_without_a_quilt_or_after_its_day_it_is_refused() -> None:
    brief = drawn()
    with pytest.raises(BadInput, match=r"^quilt"):
        answer_drawn(replace(brief, quilt=None), today=TODAY, limit=LIMIT)
    with pytest.raises(BadInput, match=r"^due"):
        answer_drawn(brief, today=brief.due + timedelta(days=1), limit=LIMIT)
