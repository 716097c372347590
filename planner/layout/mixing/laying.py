"""A packing laid out as a quilt: places in ticks, pieces in their blocks, plain strips in one length."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from planner.quilt import Bag, Cell, Quilt
from planner.units import INCH, Rect, Sides, Size

from ..notes import note_of, notes_of
from ..options import Layout, Wish
from .bands import Span
from .demands import Wanted
from .fields import Packing, turn
from .sheets import Sheet

SEAM = INCH // 4


@dataclass(frozen=True)
class Laid:
    """A block at its place in modules, with the piece it got, if any.

    `fills` says that it is as wide as its column, so that it may grow into one plain strip with the
    next.
    """

    x: int
    y: int
    span: Span
    column: int
    fills: bool
    piece: str | None = None


@dataclass(frozen=True)
class Ground:
    """What a packing is laid out on: the sheet, the bag, and what the bag asked for."""

    sheet: Sheet
    bag: Bag
    wish: Wish
    wanted: Wanted
    unit: str

    def note(self, piece: str, block: Size) -> str:
        """Return what a piece gives up in a block."""
        return note_of(self.bag.piece(piece), block, margin=self.wish.margin, unit=self.unit)


def laid_out(packing: Packing, ground: Ground, *, on_its_side: bool) -> Layout:
    """Return the layout of a packing; rows are columns that were packed on their side."""
    blocks = list(_with_pieces(_spots(packing), packing))
    blocks = list(_plain_joined(blocks))
    if on_its_side:
        blocks = [replace(each, x=each.y, y=each.x, span=turn(each.span)) for each in blocks]
    cells = tuple(_cells(sorted(blocks, key=lambda each: (each.y, each.x)), ground))
    sheet, wish = ground.sheet, ground.wish
    quilt = Quilt(
        size=sheet.size,
        cells=cells,
        sashing=sheet.sashing,
        borders=(sheet.border,) if sheet.border else (),
        binding=wish.binding,
        cloth=wish.cloth,
        seam=SEAM,
        finish=wish.finish,
    )
    placed = {cell.piece for cell in cells if cell.piece}
    return Layout(
        quilt=quilt,
        left_out=ground.wanted.left_out(ground.bag, placed),
        notes=notes_of(quilt, ground.note),
        cost=packing.cost + sheet.error,
        cropped=tuple(sorted(_cropped(blocks, ground))),
    )


def _spots(packing: Packing) -> Iterator[Laid]:
    left = 0
    for number, column in enumerate(packing.columns):
        top = 0
        for band in column:
            for x, y, span in band.spots:
                yield Laid(left + x, top + y, span, number, span[0] == band.across)
            top += band.down
        left += column[0].across


def _with_pieces(spots: Iterable[Laid], packing: Packing) -> Iterator[Laid]:
    """Give the blocks of each size their pieces in reading order; those left over are plain."""
    pool: dict[Span, list[str]] = defaultdict(list)
    for span, pieces in packing.pieces.items():
        pool[span] = sorted(pieces, reverse=True)
    for spot in sorted(spots, key=lambda each: (each.y, each.x)):
        waiting = pool[spot.span]
        yield replace(spot, piece=waiting.pop() if waiting else None)


def _plain_joined(blocks: Iterable[Laid]) -> Iterator[Laid]:
    """Make one strip of plain blocks that lie on each other over the whole width of a column."""
    last: Laid | None = None
    for block in sorted(blocks, key=lambda each: (each.column, each.y, each.x)):
        if last is not None and _are_one_strip(last, block):
            last = replace(last, span=(last.span[0], last.span[1] + block.span[1]))
            continue
        if last is not None:
            yield last
        last = block
    if last is not None:
        yield last


def _are_one_strip(upper: Laid, lower: Laid) -> bool:
    plain = upper.piece is None and lower.piece is None
    return plain and upper.fills and lower.fills and upper.column == lower.column


def _cells(blocks: Iterable[Laid], ground: Ground) -> Iterator[Cell]:
    sheet, module = ground.sheet, ground.sheet.module
    outer = sheet.sashing.width if sheet.sashing and sheet.sashing.outer else 0
    left = outer + (sheet.border.widths.left if sheet.border else 0)
    top = outer + (sheet.border.widths.top if sheet.border else 0)
    for number, block in enumerate(blocks, start=1):
        size = module.size(block.span)
        at = Rect(left + block.x * module.step, top + block.y * module.step, size.width, size.height)
        place = ground.wanted.places[block.piece][block.span] if block.piece else None
        yield Cell(f"{number:02d}", at, piece=block.piece, frame=place.frame if place else Sides())


def _cropped(blocks: Iterable[Laid], ground: Ground) -> Iterator[str]:
    for block in blocks:
        if block.piece and ground.wanted.places[block.piece][block.span].crops:
            yield block.piece
