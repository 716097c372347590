"""A cut plan written down: the strips in the order they are cut, what is bought, what is left over."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from planner.units import INCH, Size

from .cloth import Cloth, CutPlan, Strip

WORTH_KEEPING = Size(10 * INCH, 4 * INCH)


def cut_plan(cloth: Cloth, strips: Sequence[Strip], *, bound: int, scope: str) -> CutPlan:
    """Return the plan these strips make; `bound` is the least that any plan within the scope buys."""
    buy = cloth.to_buy(sum(strip.height for strip in strips if strip.source is None))
    return CutPlan(
        strips=tuple(strips),
        used=sum(strip.height for strip in strips),
        buy=buy,
        cost=cloth.cost_of(buy),
        bound=bound,
        proved=bound == buy,
        scope=scope,
        leftovers=_leftovers(cloth, strips, buy),
    )


def _leftovers(cloth: Cloth, strips: Sequence[Strip], buy: int) -> tuple[Size, ...]:
    found = [size for strip in strips for size in _beside(cloth, strip)]
    for source in {strip.source for strip in strips}:
        used = sum(strip.height for strip in strips if strip.source == source)
        length = cloth.gives(buy) if source is None else cloth.on_hand[source].height
        found.append(Size(_width(cloth, source), length - used))
    return tuple(sorted(filter(_is_worth_keeping, found), key=lambda size: (-size.area, size)))


def _beside(cloth: Cloth, strip: Strip) -> Iterator[Size]:
    """What is left right of the columns, and above each of them."""
    yield Size(_width(cloth, strip.source) - sum(column.across for column in strip.columns), strip.height)
    for column in strip.columns:
        yield Size(column.across, strip.height - column.along * column.count)


def _width(cloth: Cloth, source: int | None) -> int:
    return cloth.usable if source is None else min(cloth.on_hand[source].width, cloth.usable)


def _is_worth_keeping(size: Size) -> bool:
    short, long = sorted((size.width, size.height))
    return short >= WORTH_KEEPING.height and long >= WORTH_KEEPING.width
