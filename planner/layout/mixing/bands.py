"""Bands: a few blocks side by side or stacked, filling a strip of a column from edge to edge.

Everything is counted in modules. A column is a pile of bands, so what falls apart level into two
bands is no band of its own.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

Span = tuple[int, int]  # across and down, in modules
Spot = tuple[int, int, Span]  # a block's left and top within its band, and its size
Tiles = dict[tuple[int, int, tuple[Span, ...]], "Band"]


@dataclass(frozen=True)
class Reach:
    """How far a search goes: the widest column, and the most blocks in one band."""

    widest: int
    most: int


@dataclass(frozen=True)
class Band:
    """Blocks that fill a rectangle, each at its spot."""

    across: int
    down: int
    spots: tuple[Spot, ...]
    is_pile: bool = False

    @property
    def spans(self) -> tuple[Span, ...]:
        """The sizes of its blocks, in order."""
        return tuple(sorted(span for _, _, span in self.spots))


def strip(across: int, down: int) -> Band:
    """Return a strip of plain cloth over the whole width of a column."""
    return Band(across, down, ((0, 0, (across, down)),))


def bands_of(spans: Iterable[Span], reach: Reach) -> tuple[Band, ...]:
    """Return the bands that blocks of these sizes can make, the narrow ones first."""
    sizes = sorted(set(spans))
    tallest = 2 * max((down for _, down in sizes), default=0)
    single: Tiles = {
        (*size, (size,)): Band(*size, ((0, 0, size),)) for size in sizes if size[0] <= reach.widest
    }
    by_count: list[Tiles] = [{}, single]
    for count in range(2, reach.most + 1):
        by_count.append(_joined(by_count, count, reach.widest, tallest))
    found = (band for tiles in by_count for band in tiles.values() if not band.is_pile)
    return tuple(sorted(found, key=_order))


def _joined(by_count: list[Tiles], count: int, widest: int, tallest: int) -> Tiles:
    """Join two smaller tiles side by side or one on the other; each lot of blocks once for each outline."""
    found: Tiles = {}
    for first in range(1, count):
        by_height, by_width = defaultdict(list), defaultdict(list)
        for tile in by_count[count - first].values():
            by_height[tile.down].append(tile)
            by_width[tile.across].append(tile)
        for tile in by_count[first].values():
            for other in by_width[tile.across]:
                if tile.down + other.down <= tallest:
                    made = _above(tile, other)
                    found[(made.across, made.down, made.spans)] = made
            for other in by_height[tile.down]:
                if tile.across + other.across <= widest:
                    made = _beside(tile, other)
                    found.setdefault((made.across, made.down, made.spans), made)
    return found


def _above(first: Band, second: Band) -> Band:
    moved = tuple((x, y + first.down, span) for x, y, span in second.spots)
    return Band(first.across, first.down + second.down, first.spots + moved, is_pile=True)


def _beside(first: Band, second: Band) -> Band:
    moved = tuple((x + first.across, y, span) for x, y, span in second.spots)
    return Band(first.across + second.across, first.down, first.spots + moved)


def _order(band: Band) -> tuple[int, int, int, tuple[Span, ...]]:
    return band.across, band.down, len(band.spots), band.spans
