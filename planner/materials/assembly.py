"""From how often each fill is used to strips with their columns, nothing cut that nobody asked for."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field

from .cloth import Column, Strip
from .fills import Fill, Task
from .joining import End, Slot, join


@dataclass(frozen=True)
class Unjoined:
    """The groups whose lengths could not be put together out of the chosen strips."""

    groups: tuple[int, ...]


@dataclass
class _Laid:
    fill: Fill
    columns: list[Column] = field(default_factory=list)


def assemble(task: Task, fills: Sequence[Fill], uses: Sequence[int]) -> tuple[Strip, ...] | Unjoined:
    """Return the strips, long ones first, alike ones together; or the groups that cannot be joined."""
    chosen = [fill for fill, many in zip(fills, uses, strict=False) for _ in range(many)]
    chosen.sort(key=_order_of_cutting)
    laid = [_Laid(fill) for fill in chosen]
    _lay_pieces(task, laid)
    failed = []
    for number, group in enumerate(task.groups):
        slots = [
            Slot(place, ends.room, ends.lengthwise)
            for place, each in enumerate(laid)
            for ends in each.fill.ends
            if ends.group == number
            for _ in range(ends.count)
        ]
        ends = join(group, slots)
        if ends is None:
            failed.append(number)
        else:
            _lay_ends(task, laid, ends, width=group.width)
    return Unjoined(tuple(failed)) if failed else _strips(laid)


def _order_of_cutting(fill: Fill) -> tuple[bool, int, int, bool, int, str]:
    lengthwise = any(ends.lengthwise for ends in fill.ends)
    return (
        fill.source is None,
        fill.source or 0,
        -fill.height,
        not lengthwise,
        -sum(many for _, many in fill.columns),
        repr(fill),
    )


def _lay_pieces(task: Task, laid: Sequence[_Laid]) -> None:
    """Lay the columns until there are enough of each piece; the last strips stay short."""
    missing = dict(task.wanted)
    for each in laid:
        for way, many in each.fill.columns:
            for _ in range(many):
                count = min(way.gain, missing[way.item])
                if count:
                    each.columns.append(Column(task.items[way.item].name, way.across, way.along, count))
                    missing[way.item] -= count


def _lay_ends(task: Task, laid: Sequence[_Laid], ends: Sequence[End], *, width: int) -> None:
    for end in ends:
        name = task.items[end.ribbon].name
        column = Column(name, width, end.length, 1) if end.lengthwise else Column(name, end.length, width, 1)
        laid[end.strip].columns.append(column)


def _strips(laid: Sequence[_Laid]) -> tuple[Strip, ...]:
    found: list[Strip] = []
    reached: dict[int | None, int] = defaultdict(int)
    for each in laid:
        if not each.columns:
            continue
        source, height = each.fill.source, each.fill.height
        lengthwise = any(ends.lengthwise for ends in each.fill.ends)
        found.append(Strip(source, reached[source], height, tuple(each.columns), lengthwise))
        reached[source] += height
    return tuple(found)
