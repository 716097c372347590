"""A plan made on the command line, as a paper."""

from __future__ import annotations

from datetime import date

from orders.quilt import little_quilt
from orders.quilt.plan_sheet import sections_of
from planner.brief import Brief
from planner.plan import Plan

from . import press
from .saying import long_day


def plan_paper(brief: Brief, answer: Plan, *, on: date) -> bytes:
    """Return the answer to a brief as a PDF."""
    first, *sections = sections_of(brief, answer)
    facts = {
        "on": long_day(on),
        "asked": first[0],
        "sections": [{"heading": heading, "lines": lines} for heading, lines in sections],
        "cover": _cover(answer),
    }
    about = {"kind": "Plan", "maker": "Batting Order", "number": ""}
    return press.set_paper("plan", facts, about, size="letter" if brief.unit == "in" else "a4")


def _cover(answer: Plan) -> str:
    if answer.chosen is None:
        return ""
    quilt = answer.options[answer.chosen].layout.quilt
    return str(little_quilt.draw(quilt, little_quilt.finished("The quilt", colors={}, cloth={})))
