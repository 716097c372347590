"""Composites: two to four small prints in one block, each whole with its margin, in straight seams."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import permutations

from planner.quilt import Cell, Piece
from planner.units import INCH, Rect, Size

from .sharing import MOST_IN_A_BLOCK, room_for
from .window import keep

NEAT = INCH // 8  # seams inside a composite lie on eighths, as a ruler has them
MOST_TRIES = 1000


@dataclass(frozen=True)
class Part:
    """One print, or parts beside each other (`cut` down) or one over the other (`cut` across)."""

    least: Size
    piece: Piece | None = None
    cut: str = "none"
    parts: tuple[Part, ...] = ()

    @property
    def first(self) -> str:
        """The first of its pieces by id."""
        return min(piece.id for piece in self.pieces())

    def pieces(self) -> Iterator[Piece]:
        """Yield its pieces."""
        if self.piece is not None:
            yield self.piece
        for part in self.parts:
            yield from part.pieces()


@dataclass(frozen=True)
class Composer:
    """Puts small prints together in blocks of one finished size."""

    block: Size
    margin: int
    seam: int

    def composed(self, pieces: Sequence[Piece], blocks: int) -> tuple[Part, ...] | None:
        """Share small prints out over so many blocks, alike in number; None where that fails."""
        if not 0 < blocks <= len(pieces) <= MOST_IN_A_BLOCK * blocks:
            return None
        waiting = [self.single(piece) for piece in sorted(pieces, key=_largest_first)]
        made, tries = [], [MOST_TRIES]
        for left in range(blocks, 0, -1):
            group = self._group(tuple(waiting[:1]), waiting[1:], -(-len(waiting) // left), tries)
            if group is None:
                return None
            made.append(group)
            taken = {piece.id for piece in group.pieces()}
            waiting = [part for part in waiting if part.first not in taken]
        return tuple(made)

    def single(self, piece: Piece) -> Part:
        """Return a piece as a part of its own."""
        if piece.cut is not None:
            size = Size(piece.cut.width - 2 * self.seam, piece.cut.height - 2 * self.seam)
            return Part(size, piece)
        return Part(room_for(piece, margin=self.margin, seam=self.seam), piece)

    def _group(
        self, group: tuple[Part, ...], waiting: Sequence[Part], count: int, tries: list[int]
    ) -> Part | None:
        """Add the largest prints that a block takes in, until it holds so many."""
        tries[0] -= 1
        if tries[0] < 0 or not self._has_room(group):
            return None
        if len(group) == count:
            return self.together(group)
        for number, part in enumerate(waiting):
            more = self._group((*group, part), waiting[number + 1 :], count, tries)
            if more is not None:
                return more
        return None

    def together(self, singles: Sequence[Part]) -> Part | None:
        """Return the first way to put these prints into one block, or None."""
        return next((way for way in _ways(singles) if self._holds(way)), None)

    def cells(self, id: str, part: Part, at: Rect) -> Cell:
        """Return a composite laid out at its place in the quilt, what is to spare shared out evenly."""
        if part.piece is not None:
            return self._cell(id, part.piece, at)
        places = _shared(part, at)
        inside = (self._cell(f"{id}{chr(97 + n)}", piece, place) for n, (piece, place) in enumerate(places))
        return Cell(id, at, inside=tuple(inside))

    def _cell(self, id: str, piece: Piece, at: Rect) -> Cell:
        window = keep(piece, at.size, seam=self.seam)
        assert window is not None
        return Cell(id, at, piece=piece.id, frame=window.frame)

    def _has_room(self, singles: Sequence[Part]) -> bool:
        """Say whether prints with their margins find room beside each other."""
        if sum(part.least.area for part in singles) > self.block.area:
            return False
        return any(self._is_large_enough(way) for way in _ways(singles))

    def _is_large_enough(self, way: Part) -> bool:
        return way.least.width <= self.block.width and way.least.height <= self.block.height

    def _holds(self, way: Part) -> bool:
        """Say whether it fits the block, and each print is whole in the place it gets there."""
        if not self._is_large_enough(way):
            return False
        places = _shared(way, Rect(0, 0, self.block.width, self.block.height))
        return all(self._is_whole(piece, place.size) for piece, place in places)

    def _is_whole(self, piece: Piece, size: Size) -> bool:
        window = keep(piece, size, seam=self.seam)
        return window is not None and window.keeps_margin(piece, self.margin)


def _largest_first(piece: Piece) -> tuple[int, str]:
    return -piece.print_size.area, piece.id


def _ways(singles: Sequence[Part]) -> Iterator[Part]:
    """Yield the ways to join one to four parts: the even ones first."""
    if len(singles) == 1:
        yield singles[0]
    for order in permutations(singles):
        a, *others = order
        for first, second in (("across", "down"), ("down", "across")):
            if len(order) == 2:
                yield _join(first, order)
            elif len(order) == 3:
                yield _join(first, (a, _join(second, others)))
            elif len(order) == 4:
                yield _join(first, (_join(second, order[:2]), _join(second, order[2:])))
    if len(singles) > 2:
        yield _join("down", singles)
        yield _join("across", singles)


def _join(cut: str, parts: Sequence[Part]) -> Part:
    wide, high = [each.least.width for each in parts], [each.least.height for each in parts]
    least = Size(max(wide), sum(high)) if cut == "across" else Size(sum(wide), max(high))
    return Part(least, None, cut, tuple(parts))


def _shared(part: Part, at: Rect) -> Iterator[tuple[Piece, Rect]]:
    """Yield each print with its place; what is to spare goes to all parts alike."""
    if part.piece is not None:
        yield part.piece, at
        return
    level = part.cut == "across"
    sides = [each.least.height if level else each.least.width for each in part.parts]
    spare = ((at.height if level else at.width) - sum(sides)) // len(sides) // NEAT * NEAT
    start, end = (at.y, at.bottom) if level else (at.x, at.right)
    for number, (each, side) in enumerate(zip(part.parts, sides, strict=True)):
        stop = end if number == len(sides) - 1 else start + side + spare
        place = (
            Rect(at.x, start, at.width, stop - start) if level else Rect(start, at.y, stop - start, at.height)
        )
        yield from _shared(each, place)
        start = stop
