"""Can it be sewn in straight seams, each from edge to edge of what is being joined?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.problems import Impossible, Problem
from planner.units import Length, Rect

from .top import Quilt


@dataclass(frozen=True)
class SeamTree:
    """A straight seam that cuts `rect` in two, and what lies on either side.

    `cut` is across (a level seam at height `at`), down (an upright seam at `at`) or none: a leaf,
    one of the rectangles that were given.
    """

    rect: Rect
    cut: str
    at: Length = 0
    parts: tuple[SeamTree, ...] = ()

    def leaves(self) -> tuple[Rect, ...]:
        """Return the rectangles at the ends, left to right and top to bottom as cut."""
        if self.cut == "none":
            return (self.rect,)
        return tuple(leaf for part in self.parts for leaf in part.leaves())


def straight_seams(rects: Sequence[Rect]) -> SeamTree | Impossible:
    """Return the tree of straight seams that joins the rectangles, or why there is none.

    They must cover their common rectangle once. Any seam that runs through will do as the first:
    what lies on either side of it is sewable if the whole is.
    """
    if not rects:
        return Impossible((Problem("There is nothing to sew.", change="Add at least one block."),))
    around = _around(rects)
    if not _covers_once(rects, around):
        gap = Problem("The blocks leave a gap or overlap.", change="Move them until they meet edge to edge.")
        return Impossible((gap,))
    return _tree(tuple(sorted(rects, key=lambda r: (r.y, r.x))), around)


def seam_rects(quilt: Quilt) -> tuple[Rect, ...]:
    """Return the blocks with the sashing shared out between them, so that they fill the field.

    Each takes half the strip beside it, and the whole of an outer one.
    """
    width = quilt.sashing.width if quilt.sashing else 0
    field = quilt.field
    before, after = width - width // 2, width // 2
    grown = []
    for cell in quilt.cells:
        at = cell.at
        left = field.x if at.x - width <= field.x else at.x - before
        top = field.y if at.y - width <= field.y else at.y - before
        right = field.right if at.right + width >= field.right else at.right + after
        bottom = field.bottom if at.bottom + width >= field.bottom else at.bottom + after
        grown.append(Rect(left, top, right - left, bottom - top))
    return tuple(grown)


def _around(rects: Sequence[Rect]) -> Rect:
    left, top = min(r.x for r in rects), min(r.y for r in rects)
    return Rect(left, top, max(r.right for r in rects) - left, max(r.bottom for r in rects) - top)


def _covers_once(rects: Sequence[Rect], around: Rect) -> bool:
    if sum(r.size.area for r in rects) != around.size.area:
        return False
    return not any(a.overlaps(b) for number, a in enumerate(rects) for b in rects[number + 1 :])


def _tree(rects: tuple[Rect, ...], around: Rect) -> SeamTree | Impossible:
    if len(rects) == 1:
        return SeamTree(rects[0], "none")
    for cut in ("across", "down"):
        at = _middle_seam(rects, around, cut)
        if at is not None:
            return _joined(rects, around, cut, at)
    stuck = Problem(
        "These blocks turn round one another: no straight seam runs through them.",
        change="Make two of them the same width or the same height, so that one seam can pass.",
        figures={"x": around.x, "y": around.y, "width": around.width, "height": around.height},
    )
    return Impossible((stuck,))


def _joined(rects: tuple[Rect, ...], around: Rect, cut: str, at: int) -> SeamTree | Impossible:
    before = tuple(r for r in rects if (r.y if cut == "across" else r.x) < at)
    after = tuple(r for r in rects if (r.y if cut == "across" else r.x) >= at)
    first, second = _tree(before, _around(before)), _tree(after, _around(after))
    if isinstance(first, Impossible):
        return first
    if isinstance(second, Impossible):
        return second
    return SeamTree(around, cut, at, (first, second))


def _middle_seam(rects: tuple[Rect, ...], around: Rect, cut: str) -> int | None:
    """The seam nearest the middle, so that the tree stays shallow; the upper or left one of two."""
    spans = sorted((r.y, r.bottom) if cut == "across" else (r.x, r.right) for r in rects)
    free, reach = [], spans[0][1]
    for start, end in spans:
        if start >= reach:
            free.append(start)
        reach = max(reach, end)
    middle = around.y + around.bottom if cut == "across" else around.x + around.right
    return min(free, key=lambda at: (abs(2 * at - middle), at), default=None)
