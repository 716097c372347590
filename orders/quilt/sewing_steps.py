"""The order of sewing, step by step: what is sewn to what in words, and where it lies as a small picture."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

from planner.layout import Layout, SewingStep, sewing_order
from planner.problems import BadInput
from planner.quilt import Bag, Cell, Quilt
from planner.units import INCH, Rect

UNIT = INCH // 4  # one unit of the picture


@dataclass(frozen=True)
class Step:
    """One step at the machine; `opens` says that some of its seams are pressed open."""

    words: str
    picture: SafeString
    opens: bool


def steps_of(quilt: Quilt, bag: Bag) -> tuple[Step, ...]:
    """Return the steps that sew a quilt's blocks together; none where straight seams do not join them."""
    try:
        found = sewing_order(Layout(quilt), bag)
    except BadInput:
        return ()
    places = {cell.id: cell.at for cell in (*quilt.cells, *(each for c in quilt.cells for each in c.inside))}
    return tuple(Step(each.words, _picture(quilt, each, places), bool(each.open)) for each in found)


def _picture(quilt: Quilt, step: SewingStep, places: dict[str, Rect]) -> SafeString:
    """Draw all blocks as outlines, those of the step filled, and its seams as lines, open ones dashed."""
    field = quilt.field
    blocks = "".join(_rect(cell, "there") for cell in quilt.cells)
    joined = "".join(f'<rect class="sewn" {_at(places[id])}/>' for id in step.blocks)
    seams = "".join(_seams(step, places))
    return mark_safe(
        f'<svg class="sewing" viewBox="{_n(field.x)} {_n(field.y)} {_n(field.width)} {_n(field.height)}" '
        f'role="img" aria-label="{escape(step.words)}">{blocks}{joined}{seams}</svg>'
    )


def _seams(step: SewingStep, places: dict[str, Rect]) -> list[str]:
    """The seams of a step: lines at the edges where one of its parts ends and the next begins."""
    rects = [places[id] for id in step.blocks]
    left, right = min(r.x for r in rects), max(r.right for r in rects)
    top, bottom = min(r.y for r in rects), max(r.bottom for r in rects)
    lines = []
    for number, at in enumerate(step.seams):
        kind = "open" if number in step.open else "seam"
        ends = (left, at, right, at) if step.cut == "across" else (at, top, at, bottom)
        x1, y1, x2, y2 = map(_n, ends)
        lines.append(f'<line class="{kind}" x1="{x1}" y1="{y1}" x2="{x2}" y2="{y2}"/>')
    return lines


def _rect(cell: Cell, kind: str) -> str:
    return f'<rect class="{kind}" {_at(cell.at)}/>'


def _at(place: Rect) -> str:
    return f'x="{_n(place.x)}" y="{_n(place.y)}" width="{_n(place.width)}" height="{_n(place.height)}"'


def _n(ticks: int) -> str:
    return f"{ticks / UNIT:.1f}".removesuffix(".0")
