"""What she may choose from, and what a layout answer says."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from planner.problems import BadInput, Problem
from planner.quilt import Binding, Border, Quilt, Role, Sashing
from planner.units import INCH, Length, Rect, Sides, Size

STYLES = ("grid", "mixed", "point")
AS_GIVEN = "as laid out in the brief"
REMEDIES = ("frame", "composite", "smaller", "taller", "crop")


@dataclass(frozen=True)
class Wish:
    """The size wanted and what the layout may be made of.

    `target` and `tolerance` are of the finished quilt; `blocks` are finished; `margin` is the free
    cloth wanted round a print in its finished block; None stands for no sashing, no border.
    """

    target: Size
    tolerance: Length
    blocks: tuple[Size, ...]
    sashings: tuple[Sashing | None, ...] = (None,)
    borders: tuple[Border | None, ...] = (None,)
    margin: Length = INCH // 2
    style: str = "grid"
    binding: Binding | None = Binding()
    cloth: Mapping[Role, str] = field(default_factory=dict)
    finish: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if self.style not in STYLES:
            raise BadInput("style", f"must be one of {', '.join(STYLES)}.")
        if not self.target.area:
            raise BadInput("target", "must have a width and a height.")
        for name in ("tolerance", "margin"):
            if getattr(self, name) < 0:
                raise BadInput(name, "must not be negative.")
        for name in ("blocks", "sashings", "borders"):
            if not getattr(self, name):
                raise BadInput(name, "must offer at least one choice.")
        if any(not block.area for block in self.blocks):
            raise BadInput("blocks", "a block must have a width and a height.")


@dataclass(frozen=True)
class Remedy:
    """What would help a piece that does not fit its block.

    `frame` are finished strips to add, `block` the finished block it would then fill, `others` the
    pieces that would share it.
    """

    kind: str
    frame: Sides
    block: Size
    words: str
    others: tuple[str, ...] = ()


@dataclass(frozen=True)
class Fit:
    """Whether a piece fits a block whole with its margin, and the finished window that keeps it.

    `crop` is relative to the print's top left corner; when the piece does not fit it is the window
    of the first remedy.
    """

    ok: bool
    crop: Rect
    remedies: tuple[Remedy, ...] = ()


@dataclass(frozen=True)
class LeftOut:
    """A piece that has no block, and why."""

    piece: str
    reason: str


@dataclass(frozen=True)
class Layout:
    """A quilt laid out, with what was left out and what is given up.

    `cropped` names the pieces whose print loses something and so need her word. `cost` and `bound`
    are in ticks of size error and its equivalents; `scope` says what was proved.
    """

    quilt: Quilt
    left_out: tuple[LeftOut, ...] = ()
    notes: tuple[str, ...] = ()
    cost: int = 0
    bound: int = 0
    proved: bool = False
    scope: str = ""
    cropped: tuple[str, ...] = ()

    @property
    def verdict(self) -> str:
        """Say in a sentence how good it is among all that was looked at; nothing where nothing was."""
        if not self.scope or self.scope == AS_GIVEN:
            return ""
        return f"{'Nothing better' if self.proved else 'The best found so far'} among {self.scope}."


@dataclass(frozen=True)
class GridAnswer:
    """Even grids, the best first; or why there is none, and how many blocks would give one."""

    options: tuple[Layout, ...]
    why_none: tuple[Problem, ...] = ()
    nearest_counts: tuple[int, ...] = ()


@dataclass(frozen=True)
class Assignment:
    """A permutation of things over places, its cost, and how many starts found the same."""

    permutation: tuple[int, ...]
    cost: int | float
    agree: int


@dataclass(frozen=True)
class Arrangement:
    """A layout with its pieces moved, its cost, how many starts agree, and the reasons."""

    layout: Layout
    cost: int
    agree: int
    reasons: tuple[str, ...] = ()
