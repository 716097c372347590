"""The cutting table: strips being cut from one source after another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from .cloth import Cloth, Column, CutPiece, Item, Ribbon


@dataclass(frozen=True)
class Lying:
    """A piece as it is laid on the cloth; `fixed` when it may not lie another way."""

    name: str
    across: int
    along: int
    count: int
    fixed: bool


def laid(cloth: Cloth, items: Sequence[Item]) -> tuple[Lying, ...]:
    """Lay every piece the way that takes the least length of the full width, widest first."""
    pieces = (_lay(cloth, item) for item in items if isinstance(item, CutPiece))
    return tuple(sorted(pieces, key=lambda piece: (-piece.across, -piece.along, piece.name)))


def _lay(cloth: Cloth, piece: CutPiece) -> Lying:
    ways = [(piece.across, piece.along)]
    if not piece.keep_grain and not cloth.directional and piece.across != piece.along:
        ways.append((piece.along, piece.across))
    fitting = [way for way in ways if way[0] <= cloth.widest] or ways
    across, along = min(fitting, key=lambda way: _length_for(way, piece.count, cloth.widest))
    return Lying(piece.name, across, along, piece.count, fixed=len(ways) == 1)


def _length_for(way: tuple[int, int], count: int, width: int) -> int:
    across, along = way
    return -(-count // max(1, width // across)) * along


def joins(ribbon: Ribbon, width: int) -> bool:
    """Say whether a strip end this long brings the ribbon further."""
    return width >= ribbon.least_end and (width >= ribbon.length or width > ribbon.loss)


@dataclass
class OpenStrip:
    """A strip on the table, with `left` of its width not yet taken."""

    source: int | None
    at: int
    height: int
    left: int
    columns: list[Column] = field(default_factory=list)

    def take(self, name: str, across: int) -> None:
        """Cut one column of the strip's full height off its open end."""
        self.columns.append(Column(name, across, self.height, 1))
        self.left -= across


@dataclass
class _Source:
    index: int | None
    width: int
    length: int | None
    used: int = 0

    def has(self, height: int) -> bool:
        return self.length is None or self.length - self.used >= height


class Table:
    """Strips cut so far; what is on hand is cut in the given order, then what is bought."""

    def __init__(self, cloth: Cloth, on_hand: Sequence[int]) -> None:
        self.strips: list[OpenStrip] = []
        self._sources = [
            _Source(index, min(cloth.on_hand[index].width, cloth.usable), cloth.on_hand[index].height)
            for index in on_hand
        ]
        self._sources.append(_Source(None, cloth.usable, None))

    def cut_pieces(self, height: int, pieces: Sequence[Lying]) -> None:
        """Cut pieces of one height, widest first, each into the first strip that has room."""
        for piece in pieces:
            rest = piece.count
            for strip in self._of_height(height):
                rest -= self._fill(strip, piece, rest)
            while rest:
                source = next(s for s in self._sources if s.has(height) and s.width >= piece.across)
                rest -= self._fill(self._open(source, height), piece, rest)

    def cut_ribbons(self, height: int, ribbons: Sequence[Ribbon]) -> None:
        """Cut joined lengths of one height, the longest first."""
        for ribbon in sorted(ribbons, key=lambda ribbon: (-ribbon.length, ribbon.name)):
            self._cut_ribbon(height, ribbon)

    def _cut_ribbon(self, height: int, ribbon: Ribbon) -> None:
        """Open as few new strips as the ends on the table allow, then take those before the ends.

        Whole new strips first keeps the joins few.
        """
        ends = [strip for strip in self._of_height(height) if joins(ribbon, strip.left)]
        fresh: list[OpenStrip] = []
        while not _reaches(ribbon, ends + fresh):
            source = next(s for s in self._sources if s.has(height) and joins(ribbon, s.width))
            fresh.append(self._open(source, height))
        missing = ribbon.length
        while missing > 0:
            pool = fresh or ends
            end = _next_end(pool, missing)
            pool.remove(end)
            taken = min(end.left, max(missing, ribbon.least_end))
            end.take(ribbon.name, taken)
            missing -= taken
            missing += ribbon.loss if missing > 0 else 0

    def _of_height(self, height: int) -> list[OpenStrip]:
        return [strip for strip in self.strips if strip.height == height]

    def _open(self, source: _Source, height: int) -> OpenStrip:
        strip = OpenStrip(source.index, source.used, height, source.width)
        source.used += height
        self.strips.append(strip)
        return strip

    @staticmethod
    def _fill(strip: OpenStrip, piece: Lying, rest: int) -> int:
        fitting = min(rest, strip.left // piece.across)
        for _ in range(fitting):
            strip.take(piece.name, piece.across)
        return fitting


def _reaches(ribbon: Ribbon, ends: list[OpenStrip]) -> bool:
    if any(end.left >= ribbon.length for end in ends):
        return True
    return sum(end.left - ribbon.loss for end in ends) + ribbon.loss >= ribbon.length if ends else False


def _next_end(pool: list[OpenStrip], missing: int) -> OpenStrip:
    """Pick the shortest end that finishes the ribbon, or else the longest there is."""
    enough = [end for end in pool if end.left >= missing]
    return min(enough, key=lambda end: end.left) if enough else max(pool, key=lambda end: end.left)
