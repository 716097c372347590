"""Pieces are looked at, cut and spoiled; quilts are laid out, pieces left out, moves undone."""

from __future__ import annotations

import pytest
from hypothesis import strategies as st
from hypothesis.stateful import precondition, rule

from orders.bag import incidents
from orders.models import Block, Design, MayNotBeCut, NoYes, Shirt, cut
from orders.quilt import layouts
from orders.quilt.block_moves import CannotMove
from orders.yes import yes_to_cut
from planner.quilt import Cell, Quilt
from planner.units import INCH, Rect, Size
from tests.orders.lives.world import ANY, WHEN, World

SIZES = (12, 14)


class Cutting(World):
    @precondition(lambda self: self.book.panels)
    @rule(at=ANY, to=ANY, who=st.sampled_from([(0,), (1,), (0, 1)]), when=WHEN)
    def look(self, at: int, to: int, who: tuple[int, ...], when: int) -> None:
        singles = sorted(pk for pk in self.book.panels if self.book.is_single(pk))
        pk = (singles or sorted(self.book.panels))[at % len(singles or self.book.panels)]
        order = self.open_one(to)
        seen = self.book.looks.setdefault((pk, order.pk, self.book.facts(order.pk, pk)), set())
        for person in who:
            by = self.people[person]
            self.do(lambda by=by: yes_to_cut.look(order, self.piece(pk), by=by), when)
            seen.add((person, self.book.day))

    @precondition(lambda self: any(self.book.may_cut(pk) for pk in self.book.panels))
    @rule(at=ANY, when=WHEN)
    def cut_what_is_ready(self, at: int, when: int) -> None:
        self.cut(at=at, which=1, when=when)

    @precondition(lambda self: self.book.changed())
    @rule(at=ANY, when=WHEN)
    def cut_what_changed(self, at: int, when: int) -> None:
        changed = self.book.changed()
        pk = changed[at % len(changed)]
        with pytest.raises(NoYes):
            self.do(lambda: cut([self.piece(pk)], by=self.ada), when)

    @precondition(lambda self: self.book.panels)
    @rule(at=ANY, which=st.integers(0, 3), when=WHEN)
    def cut(self, at: int, which: int, when: int) -> None:
        every = sorted(self.book.panels)
        ready = [pk for pk in every if self.book.may_cut(pk) and pk not in self.book.cut]
        almost = [pk for pk in every if not self.book.may_cut(pk) and self.book.yeses.get(pk)]
        among = [every, ready, almost, ready][which] or every
        pk = among[at % len(among)]
        try:
            self.do(lambda: cut([self.piece(pk)], by=self.ada), when)
        except MayNotBeCut:
            assert not self.book.may_cut(pk)
            return
        assert self.book.may_cut(pk)
        if pk not in self.book.cut:
            World.tally["cuts"] += 1
            order = self.book.yeses[pk].order
            self.book.cut[pk], self.book.cut_to[pk] = order, self.book.size_of(order, pk)
        self.book.lines[self.book.panels[pk].shirt].state = "used"

    @precondition(lambda self: any(self.book.layouts.values()))
    @rule(at=ANY, when=WHEN)
    def spoil(self, at: int, when: int) -> None:
        blocks = list(Block.objects.exclude(piece=None).select_related("order", "piece").order_by("pk"))
        if blocks:
            block = blocks[at % len(blocks)]
            said = incidents.Report("melted", "fuse", block=block)
            key = f"incident-{World.tally['steps']}"
            self.do(lambda: incidents.report(block.order, said, by=self.ada, client_id=key), when)
            assert Shirt.objects.get(pk=block.piece.shirt_id).damaged

    @precondition(lambda self: self.book.panels)
    @rule(to=ANY, but=ANY, size=st.sampled_from(SIZES), when=WHEN)
    def lay_out(self, to: int, but: int, size: int, when: int) -> None:
        order, book = self.open_one(to), self.book
        names = sorted(
            book.panels[pk].name
            for number, pk in enumerate(book.offered_to(order.pk))
            if (number + but) % 3 and book.panels[pk].wanted != "out"
        )
        if not names:
            return
        side = size * INCH
        cells = tuple(
            Cell(f"{at + 1:02d}", Rect(at * side, 0, side, side), name) for at, name in enumerate(names)
        )
        quilt = Quilt(Size(len(names) * side, side), cells)
        seen = layouts.move_number(order)
        self.do(lambda: layouts.choose(order, quilt, "A row", minutes=(), seen=seen, by=self.ada), when)
        stack = book.layouts.setdefault(order.pk, [])
        if not stack or stack[-1] != dict.fromkeys(names, size):
            stack.append(dict.fromkeys(names, size))
            book.claim(order.pk)

    @precondition(lambda self: any(self.book.layouts.values()))
    @rule(to=ANY, at=ANY, when=WHEN)
    def leave_out(self, to: int, at: int, when: int) -> None:
        order, book = self.open_one(to), self.book
        names = sorted(name for name, size in book.layouts.get(order.pk, [{}])[-1].items() if size)
        if not names:
            return
        name = names[at % len(names)]
        quilt = Design.objects.get(order=order).quilt
        assert quilt is not None
        cell = next(each.id for each in quilt.cells if each.piece == name)
        held = [pk for pk in book.offered_to(order.pk) if book.panels[pk].name == name]
        is_cut = any(pk in book.cut for pk in held)
        seen = layouts.move_number(order)
        try:
            self.do(lambda: layouts.leave_out(order, cell, why="a stain", seen=seen, by=self.ada), when)
        except CannotMove:
            assert is_cut
            return
        assert not is_cut
        left = {n: s for n, s in book.layouts[order.pk][-1].items() if n != name}
        book.layouts[order.pk].append(left | {f"plain {len(left)}": 0})
        book.claim(order.pk)
        for pk in held:
            panel = book.panels[pk]
            panel.wanted_before = panel.wanted if panel.wanted != "out" else panel.wanted_before
            panel.wanted = "out"

    @precondition(lambda self: any(self.book.layouts.values()))
    @rule(to=ANY, when=WHEN)
    def undo(self, to: int, when: int) -> None:
        order, book = self.open_one(to), self.book
        if len(book.layouts.get(order.pk, ())) < 2:
            return
        seen = layouts.move_number(order)
        may_be = book.may_lie_so(order.pk, book.layouts[order.pk][-2])
        try:
            self.do(lambda: layouts.undo(order, seen=seen, by=self.ada), when)
        except CannotMove:
            assert not may_be
            return
        assert may_be
        book.layouts[order.pk].pop()
        for pk in book.offered_to(order.pk):
            panel = book.panels[pk]
            if panel.name in book.layouts[order.pk][-1] and panel.wanted == "out":
                panel.wanted = panel.wanted_before
        book.claim(order.pk)
