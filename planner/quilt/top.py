"""What is to be sewn: blocks at their finished places, and the strips round them.

A cell is a block of the quilt, which is a different number from the shirt's.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal

from planner.problems import BadInput
from planner.units import INCH, Length, Rect, Sides, Size

from .checks import named, once_each, one_of

Role = Literal[
    "sashing", "cornerstone", "border", "filler", "frame",
    "binding", "backing", "batting", "interfacing", "sleeve",
]  # fmt: skip
_UNFRAMED = Sides()
CORNERS = ("butted", "mitred", "squares")
FINISHES = ("sleeve", "label")


@dataclass(frozen=True)
class Cell:
    """A block, at its finished place in the quilt, frame strips included.

    It holds a piece, or other cells (`inside`: a composite, placed in the quilt's own
    coordinates), or neither: a filler. `turn` is 0, 90, 180 or 270 degrees clockwise.
    The id lasts through versions while the block is the same.
    """

    id: str
    at: Rect
    piece: str | None = None
    inside: tuple[Cell, ...] = ()
    frame: Sides = _UNFRAMED
    turn: int = 0

    def __post_init__(self) -> None:
        named("id", self.id)
        if self.turn not in (0, 90, 180, 270):
            raise BadInput("turn", "must be 0, 90, 180 or 270.")
        if self.piece is not None and self.inside:
            raise BadInput("inside", "a block holds one piece or several cells, not both.")
        if not self.at.size.area:
            raise BadInput("at", "a block must have a width and a height.")
        room_wide = self.at.width - self.frame.left - self.frame.right
        room_high = self.at.height - self.frame.top - self.frame.bottom
        if room_wide <= 0 or room_high <= 0:
            raise BadInput("frame", "the strips leave no room for the piece.")
        for number, cell in enumerate(self.inside):
            if not self.room.holds(cell.at):
                raise BadInput(f"inside[{number}].at", "lies outside its block.")
        if any(a.at.overlaps(b.at) for a, b in _pairs(self.inside)):
            raise BadInput("inside", "two cells of a composite overlap.")

    @property
    def room(self) -> Rect:
        """The finished place inside the frame strips."""
        return self.at.less(self.frame)

    @property
    def is_filler(self) -> bool:
        """Say whether the block holds no shirt."""
        return self.piece is None and not self.inside

    def with_pieces(self) -> Iterator[Cell]:
        """Yield the cells that hold a piece: this one, or those inside it."""
        if self.piece is not None:
            yield self
        for cell in self.inside:
            yield from cell.with_pieces()


@dataclass(frozen=True)
class Sashing:
    """Strips between blocks: finished width, whether they also run round the outside, cornerstones."""

    width: Length
    outer: bool = True
    cornerstones: bool = False

    def __post_init__(self) -> None:
        if self.width <= 0:
            raise BadInput("width", "sashing must have a width; leave it out for none.")


@dataclass(frozen=True)
class Border:
    """One ring round the top: finished widths, and how its corners are made."""

    widths: Sides
    corners: str = "butted"

    def __post_init__(self) -> None:
        one_of("corners", self.corners, CORNERS)
        if not self.widths:
            raise BadInput("widths", "a border must have a width; leave it out for none.")
        if self.corners != "butted" and 0 in (
            self.widths.top, self.widths.right, self.widths.bottom, self.widths.left
        ):  # fmt: skip
            raise BadInput("corners", "only a border on all four sides has corners to make.")


@dataclass(frozen=True)
class Binding:
    """The strip that covers the edge: cut width, on the bias or not, length beyond the perimeter."""

    cut: Length = 5 * INCH // 2
    bias: bool = False
    extra: Length = 12 * INCH

    def __post_init__(self) -> None:
        if self.cut <= 0:
            raise BadInput("cut", "binding must have a width; leave it out for none.")
        if self.extra < 0:
            raise BadInput("extra", "must not be negative.")


@dataclass(frozen=True)
class Quilt:
    """A quilt to be sewn, in finished sizes; borders are listed from the inside out.

    `finish` names what is sewn to it when it is done: a sleeve to hang it by, a label. It cannot be
    built unless cells, outer sashing and borders add up to `size`.
    """

    size: Size
    cells: tuple[Cell, ...]
    sashing: Sashing | None = None
    borders: tuple[Border, ...] = ()
    binding: Binding | None = None
    cloth: Mapping[Role, str] = field(default_factory=dict)
    seam: Length = INCH // 4
    finish: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        for number, each in enumerate(self.finish):
            one_of(f"finish[{number}]", each, FINISHES)
        if not self.cells:
            raise BadInput("cells", "a quilt needs at least one block.")
        once_each("cells", (each.id for each in self._all_cells()))
        if self.seam <= 0:
            raise BadInput("seam", "must be more than 0.")
        if any(a.at.overlaps(b.at) for a, b in _pairs(self.cells)):
            raise BadInput("cells", "two blocks overlap.")
        inner = Rect(0, 0, self.size.width, self.size.height).less(self.trims)
        if _bounds(self.cells) != inner:
            raise BadInput("size", "blocks, outer sashing and borders do not add up to it.")

    @property
    def trims(self) -> Sides:
        """What lies outside the blocks on each side: outer sashing and borders."""
        outer = self.sashing.width if self.sashing and self.sashing.outer else 0
        return Sides(
            *(
                outer + sum(getattr(border.widths, side) for border in self.borders)
                for side in ("top", "right", "bottom", "left")
            )
        )

    @property
    def field(self) -> Rect:
        """The place of blocks and sashing together, inside the borders."""
        outer = self.sashing.width if self.sashing and self.sashing.outer else 0
        box = _bounds(self.cells)
        return Rect(box.x - outer, box.y - outer, box.width + 2 * outer, box.height + 2 * outer)

    @property
    def perimeter(self) -> int:
        """All round the finished quilt, in ticks."""
        return 2 * (self.size.width + self.size.height)

    def with_pieces(self) -> Iterator[Cell]:
        """Yield every cell that holds a piece, those inside composites included."""
        for cell in self.cells:
            yield from cell.with_pieces()

    def _all_cells(self) -> Iterator[Cell]:
        waiting = list(self.cells)
        while waiting:
            cell = waiting.pop()
            yield cell
            waiting.extend(cell.inside)


def _pairs(cells: tuple[Cell, ...]) -> Iterator[tuple[Cell, Cell]]:
    return ((a, b) for number, a in enumerate(cells) for b in cells[number + 1 :])


def _bounds(cells: tuple[Cell, ...]) -> Rect:
    left, top = min(each.at.x for each in cells), min(each.at.y for each in cells)
    right, bottom = max(each.at.right for each in cells), max(each.at.bottom for each in cells)
    return Rect(left, top, right - left, bottom - top)
