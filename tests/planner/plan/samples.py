"""The briefs of the docs, changed and answered the way a maker would ask."""

from __future__ import annotations

import json
from copy import deepcopy
from datetime import date
from functools import cache
from typing import Any

from planner.brief import Brief, read_brief
from planner.materials import parts
from planner.plan import Offer, Plan, plan
from planner.problems import Limit
from planner.quilt import Role
from planner.units import show_length
from tests.conftest import ROOT

FOLDER = ROOT / "docs" / "briefs"
NAMES = tuple(sorted(path.stem for path in FOLDER.glob("*.json")))
FERNCLIFF, HARROW_BAY = "ferncliff-throw", "harrow-bay-three-in-a-week"
CINDER_CROSS, LOWER_PENTLAND = "cinder-cross-two-sided", "lower-pentland-christmas"
TODAY = {
    FERNCLIFF: date(2027, 3, 15),
    HARROW_BAY: date(2027, 4, 24),
    CINDER_CROSS: date(2027, 5, 28),
    LOWER_PENTLAND: date(2027, 11, 22),
}
SHORT = Limit(effort=20)


def written(name: str) -> Any:
    """A brief of the docs as parsed JSON, free to be changed."""
    return deepcopy(_parsed(name))


@cache
def _parsed(name: str) -> Any:
    return json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))


def answered(name: str, changed: Any = None, *, limit: Limit = SHORT) -> tuple[Brief, Plan]:
    """The brief, as it is or as changed, and its plan on the day the scenario begins."""
    brief = read_brief(changed or written(name))
    return brief, plan(brief, today=TODAY[name], limit=limit)


@cache
def as_it_is(name: str) -> tuple[Brief, Plan]:
    """The brief of the docs and its plan, reckoned once."""
    return answered(name, limit=Limit(effort=200))


def first(answer: Plan) -> Offer:
    """The offer put first."""
    assert answer.chosen is not None
    return answer.options[answer.chosen]


def minutes(offer: Offer) -> int:
    """All the work of an offer."""
    return sum(each.minutes for each in offer.minutes)


def day(brief: Brief, index: int) -> date:
    """The date of a day of the calendar."""
    return brief.work.date_of(index)


def pieces(brief: Brief, offer: Offer, role: Role) -> int:
    """How many pieces of a role are cut."""
    return sum(item.count for item in parts(offer.layout.quilt, allowances=brief.shop.allowances)[role])


def yards(ticks: int) -> str:
    """A length as it is bought, up to the next eighth of a yard."""
    return show_length(ticks, unit="yd", rounding="up").removeprefix("about ")


def tees(count: int, columns: int, rows: int) -> Any:
    """Harrow Bay's brief with so many tees, and a size that takes 14-in blocks in columns and rows."""
    changed = written(HARROW_BAY)
    garment, piece = changed["bag"]["garments"][0], changed["bag"]["pieces"][0]
    ids = [f"{number:03d}" for number in range(1, count + 1)]
    changed["bag"] = {
        "garments": [garment | {"id": id} for id in ids],
        "pieces": [piece | {"id": id, "garment": id} for id in ids],
    }
    changed["wish"]["target"] = {"width": str(columns * 16 + 2), "height": str(rows * 16 + 2)}
    return changed


def said(answer: Plan) -> str:
    """All problems of a plan in one text."""
    return " ".join(f"{problem.what} {problem.change}" for problem in answer.problems)
