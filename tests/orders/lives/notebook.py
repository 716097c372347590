"""What ought to be so, kept by hand beside the shop's records: the bag, the yeses, the cuts, the count.

It is written from the trade's rules and not from the program, and reads none of its tables.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from tests.orders.lives.entries import Door, Line, Panel, Voice, Yes

HERE = ("in work", "used")


@dataclass
class Notebook:
    day: int = 0
    hour: int = 12
    counts: dict[int, int] = field(default_factory=dict)
    serves: dict[int, set[int]] = field(default_factory=dict)
    lines: dict[int, Line] = field(default_factory=dict)
    panels: dict[int, Panel] = field(default_factory=dict)
    asked: dict[int, tuple[tuple[str, ...], bool]] = field(default_factory=dict)
    yeses: dict[int, Yes] = field(default_factory=dict)
    voices: list[Voice] = field(default_factory=list)
    looks: dict[tuple[int, int, object], set[tuple[int, int]]] = field(default_factory=dict)
    cut: dict[int, int] = field(default_factory=dict)
    cut_to: dict[int, int | None] = field(default_factory=dict)
    layouts: dict[int, list[dict[str, int]]] = field(default_factory=dict)
    closed: set[int] = field(default_factory=set)
    packed: set[int] = field(default_factory=set)
    not_there: dict[int, set[int]] = field(default_factory=dict)
    back: set[int] = field(default_factory=set)

    # the count

    def count(self, bag: int) -> dict[str, int]:
        """Return the equation of a bag, from the lines of the log alone."""
        found = {"in work": 0, "used": 0, "returned": 0, "discarded": 0}
        for line in self.lines.values():
            if line.bag == bag and line.state != "struck":
                found["in work" if line.state == "missing" else line.state] += line.garments
        return found | {"not logged": self.counts[bag] - sum(found.values())}

    def in_bags_of(self, order: int) -> list[int]:
        return [pk for pk, line in self.lines.items() if order in self.serves[line.bag]]

    def concerned(self, order: int) -> list[int]:
        """What must be accounted for when an order leaves; of a shared bag only what is its own alone."""
        others = {each for orders in self.serves.values() for each in orders} - {order} - self.closed
        theirs = {panel.shirt for panel in self.panels.values() if panel.order in others}
        ours = {panel.shirt for panel in self.panels.values() if panel.order == order}
        found = []
        for pk in self.in_bags_of(order):
            shared = bool(self.serves[self.lines[pk].bag] & others)
            if not shared or (pk in ours and pk not in theirs):
                found.append(pk)
        return found

    def bags_of(self, order: int) -> list[int]:
        return [bag for bag, orders in self.serves.items() if order in orders]

    def bundles(self, shirts: Iterable[int]) -> list[int]:
        """Of these the shirts that were cut and whose leftovers are still here."""
        return [pk for pk in shirts if self.lines[pk].state == "used" and not self.lines[pk].leftovers]

    def may_leave(self, order: int, door: Door) -> bool:
        """Say whether the count at the door adds up, with what was ticked there."""
        concerned = self.concerned(order)
        states, bundles = {self.lines[pk].state for pk in concerned}, self.bundles(concerned)
        if "missing" in states or any(self.count(bag)["not logged"] for bag in self.bags_of(order)):
            return False
        if ("in work" in states and not door.whole) or not door.needles or order not in self.packed:
            return False
        if door.leftovers == "returned":
            return not self.not_there.get(order, set()) & set(bundles)
        return not bundles or (door.leftovers == "discarded" and door.leave)

    def leave(self, order: int, leftovers: str) -> None:
        bundles = self.bundles(self.concerned(order))
        for pk in self.concerned(order):
            line = self.lines[pk]
            if line.state == "in work":
                line.state = "returned"
            elif pk in bundles:
                line.leftovers = leftovers
        self.closed.add(order)
        for bag in self.bags_of(order):
            mine = [pk for pk, line in self.lines.items() if line.bag == bag]
            whole = [pk for pk in mine if self.lines[pk].state in ("in work", "missing")]
            if not whole and not self.bundles(mine):
                self.back.add(bag)

    # the yes

    def size_of(self, order: int, piece: int) -> int | None:
        drawn = self.layouts.get(order)
        return drawn[-1].get(self.panels[piece].name) if drawn else None

    def facts(self, order: int, piece: int) -> tuple[int | None, int | None]:
        return self.panels[piece].box, self.size_of(order, piece)

    def is_over(self, until: int | None) -> bool:
        return until is not None and self.day > until

    def covers(self, agreed: tuple[int | None, int | None], order: int, piece: int) -> bool:
        now = self.facts(order, piece)
        same = all(a is None or b is None or a == b for a, b in zip(agreed, now, strict=True))
        is_open = agreed[1] is None and now[1] is not None
        return same and not (is_open and now[1] < self.panels[piece].least)

    def stands(self, piece: int) -> Yes | None:
        yes = self.yeses.get(piece)
        return yes if yes and (piece in self.cut or not self.is_over(yes.until)) else None

    def is_single(self, piece: int) -> bool:
        return self.panels[piece].shirt in self.asked

    def goes_elsewhere(self, order: int, piece: int) -> bool:
        """A piece goes into one quilt: where it is cut for, laid out for, or was said yes for first."""
        claimed, yes = self.panels[piece].order, self.stands(piece)
        if claimed not in (None, order):
            return True
        if piece in self.cut:
            return self.cut[piece] != order
        return claimed is None and yes is not None and yes.order != order

    def lacking(self, order: int, pieces: Iterable[int], *, for_the_day: bool) -> list[int]:
        """The pieces of a pile that a yes said now would be about."""
        found = []
        for piece in pieces:
            yes = self.stands(piece)
            has = (
                yes is not None
                and yes.order == order
                and (
                    piece in self.cut
                    or (self.covers(yes.facts, order, piece) and (for_the_day or yes.until is None))
                )
            )
            if not self.is_single(piece) and not has:
                found.append(piece)
        return found

    def agree(self, order: int, piece: int, *, until: int | None, consent: int) -> None:
        yes = self.stands(piece)
        if piece in self.cut:
            return
        if yes and yes.order == order and self.covers(yes.facts, order, piece) and yes.until in (None, until):
            return
        self.yeses[piece] = Yes(order, self.facts(order, piece), until, consent)

    def heard(self, order: int, piece: int) -> dict[str, Voice]:
        return {
            each.name: each
            for each in self.voices
            if (each.order, each.piece) == (order, piece)
            and not each.gone
            and not self.is_over(each.until)
            and self.covers(each.facts, order, piece)
        }

    def count_voices(self, order: int, piece: int) -> None:
        names = self.asked[self.panels[piece].shirt][0]
        heard = self.heard(order, piece)
        if all(name in heard for name in names):
            ends = [heard[name].until for name in names if heard[name].until is not None]
            last = max((heard[name] for name in names), key=lambda each: each.consent)
            self.agree(order, piece, until=min(ends, default=None), consent=last.consent)

    def forget(self, piece: int) -> None:
        if piece not in self.cut:
            self.yeses.pop(piece, None)

    def of_shirt(self, shirt: int) -> list[int]:
        return [pk for pk, panel in self.panels.items() if panel.shirt == shirt]

    def withdraw(self, consent: int) -> None:
        for voice in self.voices:
            if voice.consent == consent and not voice.gone:
                voice.gone = True
                yes = self.yeses.get(voice.piece)
                if yes is not None and yes.order == voice.order:
                    self.forget(voice.piece)
        for piece, yes in list(self.yeses.items()):
            if yes.consent == consent:
                self.forget(piece)

    # the blade

    def may_cut(self, piece: int) -> bool:
        if piece in self.cut:
            return self.panels[piece].order in (None, self.cut[piece])
        yes, panel = self.stands(piece), self.panels[piece]
        if yes is None or panel.order not in (None, yes.order) or yes.order in self.closed:
            return False
        here = self.lines[panel.shirt].state in HERE
        return here and self.covers(yes.facts, yes.order, piece) and self.looked_twice(yes.order, piece)

    def agreed_crops(self) -> list[int]:
        """The pieces, here and not cut, with a yes to a crop that was drawn."""
        return [
            pk
            for pk, yes in sorted(self.yeses.items())
            if yes.facts[0] is not None
            and pk not in self.cut
            and yes.order not in self.closed
            and self.stands(pk)
            and self.lines[self.panels[pk].shirt].state in HERE
        ]

    def changed(self) -> list[int]:
        """The pieces, here and not cut, that are another crop or size than was said yes to."""
        return [
            pk
            for pk, yes in sorted(self.yeses.items())
            if pk not in self.cut
            and yes.order not in self.closed
            and self.lines[self.panels[pk].shirt].state in HERE
            and not self.covers(yes.facts, yes.order, pk)
        ]

    def looked_twice(self, order: int, piece: int) -> bool:
        if not self.is_single(piece):
            return True
        seen = self.looks.get((piece, order, self.facts(order, piece)), set())
        people, days = {person for person, _ in seen}, {day for _, day in seen}
        return len(people) > 1 or len(days) > 1  # a new day begins at noon, so there is a night between

    # the layout

    def offered_to(self, order: int) -> list[int]:
        """The pieces that an order may use."""
        mine = (None, order)
        return [
            pk
            for pk, panel in self.panels.items()
            if panel.order in mine
            and order in self.serves[self.lines[panel.shirt].bag]
            and self.lines[panel.shirt].state in HERE
        ]

    def may_lie_so(self, order: int, layout: dict[str, int]) -> bool:
        """Say whether a layout of before can come back: nothing in it went elsewhere or was cut otherwise."""
        mine = [
            panel
            for panel in self.panels.values()
            if order in self.serves[self.lines[panel.shirt].bag] and panel.name in layout
        ]
        sizes = {pk: size for pk, size in self.cut_to.items() if size and pk in self.offered_to(order)}
        as_cut = all(layout.get(self.panels[pk].name) == size for pk, size in sizes.items())
        return as_cut and all(panel.order in (None, order) for panel in mine)

    def claim(self, order: int) -> None:
        names = self.layouts[order][-1]
        for piece in self.offered_to(order):
            panel = self.panels[piece]
            if panel.name in names:
                panel.order = order
            elif panel.order == order and self.stands(piece) is None:
                panel.order = None
