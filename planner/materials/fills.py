"""Every way to fill one strip: which columns stand side by side in it, and what is left for joined ends."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from .cloth import Cloth, CutPiece, Item, Ribbon

MOST_FILLS = 6_000


@dataclass(frozen=True)
class Way:
    """A column of equal pieces as it may stand: `gain` of them, each `across` by `along`."""

    item: int
    across: int
    along: int
    gain: int


@dataclass(frozen=True)
class Group:
    """Joined lengths that share their ends: alike in width and join; each has its shortest end."""

    width: int
    loss: int
    ribbons: tuple[int, ...]
    lengths: tuple[int, ...]
    least_ends: tuple[int, ...]

    @property
    def least_end(self) -> int:
        """The shortest end that any of them takes, in ticks."""
        return min(self.least_ends)

    @property
    def longest(self) -> int:
        """The longest of them, in ticks."""
        return max(self.lengths)

    @property
    def sizes(self) -> tuple[tuple[int, int], ...]:
        """Each of them as its length and its shortest end."""
        return tuple(zip(self.lengths, self.least_ends, strict=True))

    @property
    def least_room(self) -> int:
        """The shortest end that brings one of them further, in ticks."""
        return max(self.least_end, min(self.loss + 1, *self.lengths))

    def reaches(self, room: int) -> bool:
        """Say whether an end this long brings one of them further."""
        return room >= self.least_room

    def can_share(self, room: int, *, lengthwise: bool) -> bool:
        """Say whether two of them may take ends out of one such slot."""
        return not lengthwise and room >= 2 * self.least_end

    def only(self, places: Sequence[int]) -> Group:
        """Return the group with only the lengths at these places."""
        return replace(
            self,
            ribbons=tuple(self.ribbons[n] for n in places),
            lengths=tuple(self.lengths[n] for n in places),
            least_ends=tuple(self.least_ends[n] for n in places),
        )


@dataclass(frozen=True)
class Ends:
    """`count` ends of up to `room` each for one group, over the cloth or (lengthwise) along it."""

    group: int
    room: int
    count: int
    lengthwise: bool


@dataclass(frozen=True)
class Fill:
    """What one strip of `height` out of a source holds; `source` is an index on hand or None."""

    source: int | None
    height: int
    columns: tuple[tuple[Way, int], ...]
    ends: tuple[Ends, ...] = ()

    def pieces(self, item: int) -> int:
        """Return how many of an item it gives."""
        return sum(way.gain * many for way, many in self.columns if way.item == item)

    def room(self, group: int) -> int:
        """Return the length it gives to a group, all ends together."""
        return sum(ends.room * ends.count for ends in self.ends if ends.group == group)

    def ends_of(self, group: int) -> int:
        """Return how many ends it gives to a group."""
        return sum(ends.count for ends in self.ends if ends.group == group)


@dataclass(frozen=True)
class Sheet:
    """One source of strips; `length` is None for what is newly bought."""

    source: int | None
    width: int
    length: int | None


@dataclass(frozen=True)
class Task:
    """A cloth and what is to be cut from it, made ready for the search; no strip is above `tallest`."""

    cloth: Cloth
    items: tuple[Item, ...]
    tallest: int

    @cached_property
    def sheets(self) -> tuple[Sheet, ...]:
        """What is on hand, then what can be bought."""
        usable, on_hand = self.cloth.usable, self.cloth.on_hand
        found = [Sheet(n, min(each.width, usable), each.height) for n, each in enumerate(on_hand)]
        return (*found, *([Sheet(None, usable, None)] if self.cloth.price else []))

    @cached_property
    def wanted(self) -> dict[int, int]:
        """How many of each piece, by its place among the items."""
        return {n: item.count for n, item in enumerate(self.items) if isinstance(item, CutPiece)}

    @cached_property
    def groups(self) -> tuple[Group, ...]:
        """The joined lengths, the widest first."""
        alike: dict[tuple[int, int], list[int]] = {}
        for n, item in enumerate(self.items):
            if isinstance(item, Ribbon):
                alike.setdefault((item.width, item.loss), []).append(n)
        return tuple(
            Group(*key, tuple(found), tuple(map(self._length, found)), tuple(map(self._least_end, found)))
            for key, found in sorted(alike.items(), reverse=True)
        )

    @cached_property
    def lies(self) -> tuple[tuple[int, int, int], ...]:
        """Each piece the ways it may lie: item, across, along."""
        found = []
        for n, item in enumerate(self.items):
            if isinstance(item, CutPiece):
                found.append((n, item.across, item.along))
                if not item.keep_grain and not self.cloth.directional and item.across != item.along:
                    found.append((n, item.along, item.across))
        return tuple(found)

    def most_of(self, fill: Fill) -> int:
        """How often a fill can be of use at the most."""
        most = sum(-(-self.wanted[way.item] // (way.gain * many)) for way, many in fill.columns)
        for ends in fill.ends:
            group = self.groups[ends.group]
            gained = max(1, ends.room - group.loss)
            most += -(-sum(group.lengths) // gained) + len(group.lengths)
        left = self.tallest if fill.source is None else self.cloth.on_hand[fill.source].height
        return min(most, left // fill.height)

    def heights(self, sheet: Sheet) -> tuple[int, ...]:
        """The heights a strip may have: of a piece, of a joined length, or as long as one."""
        most = self.tallest if sheet.length is None else sheet.length
        found = {along for _, across, along in self.lies if across <= sheet.width}
        for group in self.groups:
            found.add(group.width)
            if not self.cloth.directional and group.width <= sheet.width:
                found |= set(group.lengths)
        return tuple(sorted((each for each in found if each <= most), reverse=True))

    def ways(self, sheet: Sheet, height: int) -> tuple[Way, ...]:
        """The columns of pieces a strip of this height may hold, the widest first."""
        found = [
            Way(n, across, along, height // along)
            for n, across, along in self.lies
            if along <= height and across <= sheet.width
        ]
        return tuple(sorted(found, key=lambda way: (-way.across, -way.along, way.item)))

    def lengthwise(self, sheet: Sheet, height: int) -> tuple[int, ...]:
        """The groups of which ends may run along the cloth in a strip of this height."""
        if self.cloth.directional or not any(height in group.lengths for group in self.groups):
            return ()
        return tuple(
            n
            for n, group in enumerate(self.groups)
            if group.width <= sheet.width and group.width < height and group.reaches(height)
        )

    def across(self, sheet: Sheet, height: int) -> int | None:
        """The group whose ends a strip of this height gives over the cloth's width."""
        return next(
            (n for n, each in enumerate(self.groups) if each.width == height and each.reaches(sheet.width)),
            None,
        )

    def _length(self, n: int) -> int:
        item = self.items[n]
        assert isinstance(item, Ribbon)
        return max(item.length, item.least_end)

    def _least_end(self, n: int) -> int:
        item = self.items[n]
        assert isinstance(item, Ribbon)
        return item.least_end


def all_fills(task: Task) -> list[Fill] | None:
    """Return every fill that could be of use, or None when there are too many to list."""
    found: list[Fill] = []
    for sheet in task.sheets:
        for height in task.heights(sheet):
            for fill in _fills(task, sheet, height):
                found.append(fill)
                if len(found) > MOST_FILLS:
                    return None
    return found


def _fills(task: Task, sheet: Sheet, height: int) -> Iterator[Fill]:
    ways, along, across = task.ways(sheet, height), task.lengthwise(sheet, height), task.across(sheet, height)
    widths = [way.across for way in ways] + [task.groups[n].width for n in along]
    caps = [-(-task.wanted[way.item] // way.gain) for way in ways]
    caps += [-(-sum(task.groups[n].lengths) // height) + len(task.groups[n].lengths) for n in along]
    order = sorted(range(len(widths)), key=lambda n: (-widths[n], n))
    reached = None if across is None else task.groups[across]
    kinds = [(widths[n], caps[n]) for n in order]
    useful = sheet.width + 1 if reached is None else reached.least_room
    for counts, room, full in _combinations(kinds, sheet.width, useful=useful):
        gives_an_end = room >= useful
        if not gives_an_end and not full:
            continue
        by_place = dict(zip(order, counts, strict=True))
        columns = tuple((ways[n], by_place[n]) for n in range(len(ways)) if by_place[n])
        ends = [
            Ends(group, min(height, task.groups[group].longest), by_place[len(ways) + n], lengthwise=True)
            for n, group in enumerate(along)
            if by_place[len(ways) + n]
        ]
        if across is not None and gives_an_end:
            yield Fill(sheet.source, height, columns, (*ends, Ends(across, room, 1, lengthwise=False)))
        if full and _needs_the_height(task, height, columns, ends):
            yield Fill(sheet.source, height, columns, tuple(ends))


def _needs_the_height(
    task: Task, height: int, columns: Sequence[tuple[Way, int]], ends: Sequence[Ends]
) -> bool:
    """Say whether a lower strip would not hold the same."""
    return any(way.along * way.gain == height for way, _ in columns) or any(
        height in task.groups[each.group].lengths for each in ends
    )


def _combinations(
    kinds: Sequence[tuple[int, int]], width: int, *, useful: int
) -> Iterator[tuple[list[int], int, bool]]:
    """Yield counts of columns, the width left, and whether not one more column goes in.

    A width left is only of use from `useful` on, so fewer of the last column that leave less are passed over.
    """
    if not kinds:
        yield [], width, True
        return
    (across, most), rest = kinds[0], kinds[1:]
    fitting = min(most, width // across)
    fewer = fitting - 1 if rest else min(fitting - 1, (width - useful) // across)
    for count in (fitting, *range(fewer, -1, -1)):
        for counts, room, full in _combinations(rest, width - count * across, useful=useful):
            yield [count, *counts], room, full and (count == most or room < across)
