"""The block sizes on a module that each piece may take, whole and with its margin, and what each costs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from planner.quilt import Piece
from planner.units import INCH, Sides, Size

from ..window import LEAST_STRIP, Window, keep, sure_margin
from .bands import Span

MOST_PLACES = 10
LONGEST_BLOCK = 24 * INCH
LEAST_PLAIN = 3 * INCH
SLIMMEST = 2  # a block is at most so many times as long as wide, unless its piece is longer itself
WIDEST_STRIP = 3 * INCH
COST_WASTE = INCH // 32  # a square inch of cloth round a print that is as large as that cloth
COST_STEP = INCH // 8
COST_STRIPS = INCH // 2
COST_CROP = 3 * INCH
COST_SECOND_SIDE = INCH // 2


@dataclass(frozen=True)
class Module:
    """The step that block sizes come in: a block of n modules is n · `step` − `gap`, its sashing left out."""

    step: int
    gap: int = 0

    def length(self, count: int) -> int:
        """Return the finished length of so many modules."""
        return count * self.step - self.gap

    def size(self, span: Span) -> Size:
        """Return the finished size of a block."""
        return Size(self.length(span[0]), self.length(span[1]))

    def least(self, length: int) -> int:
        """Return the fewest modules that are at least so long."""
        return max(1, -(-(length + self.gap) // self.step))


@dataclass(frozen=True)
class Place:
    """A block size a piece may take: its strips, whether its print loses something, and the cost in ticks."""

    size: Size
    frame: Sides
    crops: bool
    cost: int


@dataclass(frozen=True)
class Chooser:
    """Finds the places of pieces: with `margin` round the print, `named` sizes always among them."""

    module: Module
    margin: int
    seam: int
    named: tuple[Size, ...] = ()

    def places(self, piece: Piece) -> Mapping[Span, Place]:
        """Return the cheapest places of a piece, all of them for plain cloth.

        What cannot be whole anywhere is cropped at a cost.
        """
        found = dict(self._tried(piece))
        if not piece.print_size.area and piece.cut is None:
            return {span: place for span, place in found.items() if not place.frame} or found
        whole = {span: place for span, place in found.items() if not place.crops}
        ranked = sorted((whole or found).items(), key=lambda each: (each[1].cost, each[0]))
        asked = [each for each in ranked[MOST_PLACES:] if each[1].size in self.named]
        return dict([*ranked[:MOST_PLACES], *asked])

    def _tried(self, piece: Piece) -> Iterator[tuple[Span, Place]]:
        for span in self._spans(piece):
            size = self.module.size(span)
            window = keep(piece, size, seam=self.seam)
            if window is not None and _has_good_strips(window):
                crops = not self._is_whole(piece, window)
                yield span, Place(size, window.frame, crops, self._cost(piece, size, window, crops))

    def _spans(self, piece: Piece) -> Iterator[Span]:
        least = self._least(piece)
        shapes = (least, piece.cut or piece.cloth)
        for across in self._counts(least.width):
            for down in self._counts(least.height):
                size = self.module.size((across, down))
                if _slimness(size) <= max(Fraction(SLIMMEST), *map(_slimness, shapes)):
                    yield across, down

    def _least(self, piece: Piece) -> Size:
        """The smallest size that is tried: the print with its margins, or enough plain cloth to be seen."""
        if piece.cut is not None:
            return Size(*(max(1, side - 2 * self.seam) for side in (piece.cut.width, piece.cut.height)))
        if not piece.print_size.area:
            return Size(LEAST_PLAIN, LEAST_PLAIN)
        return piece.print_size.grown(2 * sure_margin(piece, self.margin))

    def _counts(self, least: int) -> range:
        first = self.module.least(least)
        return range(first, max(first, (LONGEST_BLOCK + self.module.gap) // self.module.step) + 1)

    def _is_whole(self, piece: Piece, window: Window) -> bool:
        """Whole with its margin, or with as much of it as the cloth itself has on that side."""
        if window.loses_print(piece):
            return False
        if not piece.print_size.area or piece.cut is not None:
            return True
        crop, size, free = window.crop, piece.print_size, piece.free
        kept = (-crop.y, crop.right - size.width, crop.bottom - size.height, -crop.x)
        have = (free.top, free.right, free.bottom, free.left)
        margin = sure_margin(piece, self.margin)
        return all(k >= min(margin, h - self.seam) for k, h in zip(kept, have, strict=True))

    def _cost(self, piece: Piece, size: Size, window: Window, crops: bool) -> int:
        """Cloth beyond the print costs the more, the greater its share; strips cost, and so does cropping.

        Of plain cloth a large part costs more than two small ones, so that patches come out alike.
        """
        print_size = piece.print_size
        if print_size.area:
            kept = (print_size.width + 2 * self.margin) * (print_size.height + 2 * self.margin)
            waste = max(0, size.area - kept) ** 2 // size.area
        else:
            waste = size.area**2 // (piece.cut or piece.cloth).area
        strips = size.area - window.crop.size.area
        cost = COST_WASTE * waste // (INCH * INCH)
        cost += COST_STRIPS + COST_WASTE * strips // (INCH * INCH) if window.frame else 0
        cost += COST_CROP if crops else 0
        return in_steps(cost)


def in_steps(cost: int) -> int:
    """Return a cost in whole steps: a search that counts finer takes long over what nobody sees."""
    return (2 * cost + COST_STEP) // (2 * COST_STEP) * COST_STEP


def _slimness(size: Size) -> Fraction:
    return Fraction(max(size.width, size.height), min(size.width, size.height))


def _has_good_strips(window: Window) -> bool:
    frame = window.frame
    strips = (frame.top, frame.right, frame.bottom, frame.left)
    return all(LEAST_STRIP <= strip <= WIDEST_STRIP for strip in strips if strip)
