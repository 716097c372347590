"""Yeses are said to the pile and by name, for good and for a day, and taken back; crops change."""

from __future__ import annotations

from datetime import timedelta

from hypothesis import strategies as st
from hypothesis.stateful import precondition, rule

from orders.bag import intake
from orders.models import CannotAgree, Consent, Order, Shirt
from orders.yes import asking, yes_to_cut
from orders.yes.yes_to_cut import Said
from tests.orders.lives.entries import Voice
from tests.orders.lives.world import ANY, NAMES, NOON, WHEN, World


class Agreeing(World):
    @precondition(lambda self: self.book.lines)
    @rule(at=ANY, names=st.sets(st.sampled_from(NAMES), min_size=1), day=st.booleans(), when=WHEN)
    def ask_singly(self, at: int, names: set[str], day: bool, when: int) -> None:
        shirt = Shirt.objects.get(pk=sorted(self.book.lines)[at % len(self.book.lines)])
        named = tuple(sorted(names))
        self.do(lambda: yes_to_cut.ask_singly(shirt, named, for_the_day=day, why="", by=self.ada), when)
        if self.book.asked.get(shirt.pk) == (named, day):
            return
        self.book.asked[shirt.pk] = (named, day)
        for piece in self.book.of_shirt(shirt.pk):
            self.book.forget(piece)
            alive = [
                v
                for v in self.book.voices
                if v.piece == piece and not v.gone and not self.book.is_over(v.until)
            ]
            if alive:
                self.book.count_voices(self.book.panels[piece].order or alive[-1].order, piece)

    @precondition(lambda self: self.book.asked)
    @rule(at=ANY, when=WHEN)
    def ask_as_usual(self, at: int, when: int) -> None:
        shirt = Shirt.objects.get(pk=sorted(self.book.asked)[at % len(self.book.asked)])
        self.do(lambda: yes_to_cut.ask_as_usual(shirt, by=self.ada), when)
        del self.book.asked[shirt.pk]
        for piece in self.book.of_shirt(shirt.pk):
            self.book.forget(piece)

    @precondition(lambda self: self.book.panels)
    @rule(to=ANY, but=ANY, day=st.booleans(), when=WHEN)
    def yes_to_the_pile(self, to: int, but: int, day: bool, when: int) -> None:
        order, book = self.open_one(to), self.book
        shown = asking.pieces_to_ask(order)
        assert {piece.pk for piece in shown} == {
            pk for pk in book.offered_to(order.pk) if book.panels[pk].wanted != "out"
        }
        pile = [piece for number, piece in enumerate(shown) if (number + but) % 4]
        asked = book.lacking(order.pk, [piece.pk for piece in pile], for_the_day=day)
        refused = any(book.goes_elsewhere(order.pk, pk) for pk in asked)
        said = Said(NAMES[2], "person", for_the_day=day)
        try:
            consent = self.do(lambda: yes_to_cut.say_for_pile(order, pile, said, by=self.ada), when)
        except CannotAgree:
            assert refused
            return
        assert not refused
        assert (consent is None) == (not asked)
        for pk in asked:
            book.agree(order.pk, pk, until=book.day if day else None, consent=consent.pk)

    @precondition(lambda self: not self.book.yeses)
    @rule(to=ANY, when=WHEN)
    def the_first_yes(self, to: int, when: int) -> None:
        self.yes_to_the_pile(to=to, but=0, day=False, when=when)

    @precondition(lambda self: any(self.book.is_single(pk) for pk in self.book.panels))
    @rule(to=ANY, at=ANY, who=ANY, day=st.booleans(), when=WHEN)
    def yes_to_one(self, *, to: int, at: int, who: int, day: bool, when: int) -> None:
        order, book = self.open_one(to), self.book
        singles = sorted(pk for pk in book.panels if book.is_single(pk))
        pk = singles[at % len(singles)]
        names, for_the_day = book.asked[book.panels[pk].shirt]
        name = names[who % len(names)]
        said_before = name in book.heard(order.pk, pk)
        refused = not said_before and book.goes_elsewhere(order.pk, pk)
        said = Said(name, "phone", for_the_day=day)
        try:
            consent = self.do(lambda: yes_to_cut.say_for_one(order, self.piece(pk), said, by=self.ada), when)
        except CannotAgree:
            assert refused
            return
        assert not refused
        assert (consent is None) == said_before
        if consent is not None:
            until = book.day if day or for_the_day else None
            book.voices.append(Voice(order.pk, pk, name, book.facts(order.pk, pk), until, consent.pk))
            book.count_voices(order.pk, pk)

    @precondition(lambda self: self.book.yeses or self.book.voices)
    @rule(at=ANY, when=WHEN)
    def withdraw(self, at: int, when: int) -> None:
        said = {yes.consent for yes in self.book.yeses.values()} | {each.consent for each in self.book.voices}
        consent = sorted(said)[at % len(said)]
        self.do(lambda: Consent.objects.get(pk=consent).withdraw(by=self.ada), when)
        self.book.withdraw(consent)

    @precondition(lambda self: self.book.yeses)
    @rule(at=ANY, when=WHEN)
    def take_one_back(self, at: int, when: int) -> None:
        pk = sorted(self.book.yeses)[at % len(self.book.yeses)]
        order = Order.objects.get(pk=self.book.yeses[pk].order)
        self.do(lambda: yes_to_cut.take_back_piece(order, self.piece(pk), by=self.ada), when)
        if pk not in self.book.cut:
            for voice in self.book.voices:
                voice.gone = voice.gone or (voice.piece, voice.order) == (pk, order.pk)
        self.book.forget(pk)

    @precondition(lambda self: self.since_night > 3)
    @rule()
    def a_night_passes(self) -> None:
        World.tally["steps"] += 1
        self.book.day += 1
        self.since_night = 0
        self.moment = NOON + timedelta(days=self.book.day)

    @precondition(lambda self: self.book.panels)
    @rule(at=ANY, box=st.integers(1, 2), when=WHEN)
    def crop(self, at: int, box: int, when: int) -> None:
        pk = sorted(self.book.panels)[at % len(self.book.panels)]
        seen = self.piece(pk).version
        drawn = {"x": box, "y": 5, "width": 45, "height": 50}
        self.do(lambda: intake.write_panel(self.piece(pk), seen=seen, by=self.ada, box=drawn), when)
        self.book.panels[pk].box = box
