"""From how often each fill is used to strips with their columns, nothing cut that nobody asked for."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType

from .cloth import Column, Strip
from .fills import Fill, Group, Task
from .joining import NotJoined, join
from .slots import Slot


@dataclass(frozen=True)
class Unjoined:
    """The groups whose lengths could not be put together out of the chosen strips, with whether none can."""

    proved: Mapping[int, bool]


@dataclass
class _Laid:
    fill: Fill
    columns: list[Column] = field(default_factory=list)


Ties = Sequence[tuple[Group, Sequence[Slot]]]
NO_TIES: Mapping[int, Ties] = MappingProxyType({})


def assemble(
    task: Task, fills: Sequence[Fill], uses: Sequence[int], *, ties: Mapping[int, Ties] = NO_TIES
) -> tuple[Strip, ...] | Unjoined:
    """Return the strips, long ones first, alike ones together; or the groups that cannot be joined.

    `ties` say, where that is known, which lengths of a group are made out of which slots.
    """
    chosen = [fill for fill, many in zip(fills, uses, strict=False) for _ in range(many)]
    chosen.sort(key=_order_of_cutting)
    laid = [_Laid(fill) for fill in chosen]
    _lay_pieces(task, laid)
    failed: dict[int, bool] = {}
    for number, group in enumerate(task.groups):
        free = _slots(laid, number)
        known = ties.get(number) or [(group, [slot for _, slot in free])]
        for each, slots in known:
            not_joined = _lay_ends(task, laid, each, _taken(slots, free))
            if not_joined:
                failed[number] = not_joined.proved
    return Unjoined(failed) if failed else _strips(laid)


def _taken(slots: Sequence[Slot], free: list[tuple[int, Slot]]) -> list[tuple[int, Slot]]:
    """Take slots of the kinds wanted out of those that are free."""
    found = []
    for slot in slots:
        place = next(each for each in free if each[1] == slot)
        free.remove(place)
        found.append(place)
    return found


def _lay_ends(
    task: Task, laid: Sequence[_Laid], group: Group, slots: Sequence[tuple[int, Slot]]
) -> NotJoined | None:
    """Lay the ends of joined lengths into the strips, or say that they were not joined."""
    ends = join(group, [slot for _, slot in slots])
    if isinstance(ends, NotJoined):
        return ends
    for end in ends:
        place, slot = slots[end.slot]
        size = (group.width, end.length) if slot.lengthwise else (end.length, group.width)
        laid[place].columns.append(Column(task.items[end.ribbon].name, *size, 1))
    return None


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


def _slots(laid: Sequence[_Laid], group: int) -> list[tuple[int, Slot]]:
    """Return the slots for a group's ends, each with the place of its strip."""
    return [
        (place, Slot(ends.room, ends.lengthwise))
        for place, each in enumerate(laid)
        for ends in each.fill.ends
        if ends.group == group
        for _ in range(ends.count)
    ]


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
