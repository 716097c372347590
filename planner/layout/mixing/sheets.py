"""The sizes a mixed quilt may have: fields of whole modules with their sashing and borders, nearest first."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from planner.quilt import Border, Sashing
from planner.units import INCH, MM, Size

from ..blocks import without_cornerstones
from ..options import Wish
from .places import Module

USUAL_STEPS = {"in": (3 * INCH, 2 * INCH), "cm": (80 * MM, 50 * MM)}


@dataclass(frozen=True)
class Sheet:
    """A field of `across` by `down` modules, the strips round it, and its size error in ticks."""

    module: Module
    across: int
    down: int
    sashing: Sashing | None
    border: Border | None
    error: int

    @property
    def size(self) -> Size:
        """The finished size of the quilt."""
        more = _trims(self.sashing, self.border)
        return Size(self.module.length(self.across) + more.width, self.module.length(self.down) + more.height)

    @property
    def modules(self) -> int:
        """How many modules the field has."""
        return self.across * self.down


def sheets_near(wish: Wish, step: int, *, more: int = 0) -> tuple[Sheet, ...]:
    """Return the sheets whose size is within the tolerance and `more` of the wish, the nearest first."""
    found = (
        each
        for sashing in dict.fromkeys(map(without_cornerstones, wish.sashings))
        for border in dict.fromkeys(wish.borders)
        for each in _sheets(wish, step, (sashing, border), within=wish.tolerance + more)
    )
    return tuple(sorted(found, key=lambda each: each.error))


def step_for(wish: Wish, unit: str) -> int:
    """Return the usual module that goes into the size best: the large one, if it is as good."""
    steps = USUAL_STEPS[unit]
    errors = [min((each.error for each in sheets_near(wish, step)), default=None) for step in steps]
    known = [(error, number) for number, error in enumerate(errors) if error is not None]
    return steps[min(known)[1]] if known else steps[0]


def _sheets(
    wish: Wish, step: int, trims: tuple[Sashing | None, Border | None], *, within: int
) -> Iterator[Sheet]:
    sashing, border = trims
    module = Module(step, sashing.width if sashing else 0)
    more = _trims(sashing, border)
    for across in _counts(module, wish.target.width - more.width, within):
        for down in _counts(module, wish.target.height - more.height, within):
            sheet = Sheet(module, across, down, sashing, border, 0)
            size = sheet.size
            error = abs(size.width - wish.target.width) + abs(size.height - wish.target.height)
            yield replace(sheet, error=error)


def _counts(module: Module, length: int, within: int) -> range:
    if length + within <= 0:
        return range(0)
    return range(module.least(max(1, length - within)), (length + within + module.gap) // module.step + 1)


def _trims(sashing: Sashing | None, border: Border | None) -> Size:
    outer = 2 * sashing.width if sashing and sashing.outer else 0
    sides = border.widths if border else None
    wide = sides.left + sides.right if sides else 0
    high = sides.top + sides.bottom if sides else 0
    return Size(outer + wide, outer + high)
