"""Bands dealt out to columns of one height."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from .bands import Band

Column = tuple[Band, ...]  # from the top down, all of one width
MOST_TRIES = 20_000


def deal(
    bands: Mapping[Band, int], down: int, known: Mapping[int, Sequence[tuple[int, ...]]]
) -> tuple[Column, ...] | int:
    """Return columns that are each `down` modules long, the widest in the middle.

    `known` are the heights in each column of some widths. Where the bands of another width cannot be
    dealt out evenly, return that width.
    """
    by_width: dict[int, list[Band]] = defaultdict(list)
    for band in sorted(bands, key=lambda each: (each.across, each.down, each.spots)):
        by_width[band.across] += [band] * bands[band]
    columns: list[Column] = []
    for across, lying in sorted(by_width.items()):
        found = known.get(across) or _heights(Counter(band.down for band in lying), down)
        if found is None:
            return across
        columns += _filled(lying, found)
    return tuple(
        column if number % 2 else column[::-1] for number, column in enumerate(_widest_in_the_middle(columns))
    )


def _filled(lying: Iterable[Band], heights: Iterable[tuple[int, ...]]) -> Iterator[Column]:
    by_height: dict[int, list[Band]] = defaultdict(list)
    for band in lying:
        by_height[band.down].append(band)
    for column in heights:
        yield tuple(by_height[height].pop(0) for height in column)


def _heights(counts: Counter[int], down: int) -> list[tuple[int, ...]] | None:
    """Share heights out among piles of `down`; the tallest that is left goes into the next pile."""
    tries = [MOST_TRIES]

    def piles(left: Counter[int]) -> list[tuple[int, ...]] | None:
        if not left:
            return []
        tallest = max(left)
        for pile in _piles(left - Counter([tallest]), down - tallest, tallest):
            tries[0] -= 1
            if tries[0] < 0:
                return None
            rest = piles(left - Counter((tallest, *pile)))
            if rest is not None:
                return [(tallest, *pile), *rest]
        return None

    return piles(counts)


def _piles(left: Counter[int], down: int, most: int) -> Iterator[tuple[int, ...]]:
    """Yield every pile of heights, none over `most`, that adds up to `down`, the tall ones first."""
    if down == 0:
        yield ()
    for height in sorted((each for each in left if each <= min(most, down)), reverse=True):
        for pile in _piles(left - Counter([height]), down - height, height):
            yield (height, *pile)


def _widest_in_the_middle(columns: list[Column]) -> list[Column]:
    ordered: list[Column] = []
    for number, column in enumerate(sorted(columns, key=lambda each: -each[0].across)):
        if number % 2:
            ordered.append(column)
        else:
            ordered.insert(0, column)
    return ordered
