"""Bags come in, are counted, tagged, shared; shirts go back, are missed, found, struck; quilts leave."""

from __future__ import annotations

from hypothesis import strategies as st
from hypothesis.stateful import precondition, rule

from orders import handing_over, intake
from orders.models import Bag, Shirt
from tests.orders.lives.notebook import Line, Panel
from tests.orders.lives.world import ANY, NAMES, WHEN, World


class Arriving(World):
    @precondition(lambda self: len(self.book.counts) < 4)
    @rule(at=ANY, count=st.integers(1, 6), when=WHEN)
    def receive(self, at: int, count: int, when: int) -> None:
        order = self.open_one(at)
        key = f"bag-{len(self.book.counts)}"
        bag = self.do(
            lambda: Bag.objects.receive(
                order, by=self.ada, client_id=key, brought_by="his sister", count=count
            ),
            when,
        )
        self.book.counts[bag.pk], self.book.serves[bag.pk] = count, {order.pk}

    def with_room(self) -> list[int]:
        return [bag for bag in self.book.counts if self.book.count(bag)["not logged"] > 0]

    @precondition(lambda self: self.with_room())
    @rule(at=ANY, keep=st.sampled_from(["front", "both"]), together=st.booleans(), when=WHEN)
    def tag(self, at: int, keep: str, together: bool, when: int) -> None:
        bags = self.with_room()
        bag = Bag.objects.get(pk=bags[at % len(bags)])
        garments = 2 if together and self.book.count(bag.pk)["not logged"] > 1 else 1
        said = intake.Said("tee", keep, "plastisol", garments=garments)
        key = f"shirt-{len(self.book.lines)}"
        order = bag.orders.first()
        shirt = self.do(lambda: intake.log_shirt(bag, order, said, by=self.ada, client_id=key), when)
        self.book.lines[shirt.pk] = Line(bag.pk, garments)
        for piece in shirt.pieces.all():
            self.book.panels[piece.pk] = Panel(piece.name, shirt.pk, wanted=piece.wanted)

    @precondition(lambda self: self.book.counts)
    @rule(at=ANY, more=st.integers(0, 3), when=WHEN)
    def count_again(self, at: int, more: int, when: int) -> None:
        bag = sorted(self.book.counts)[at % len(self.book.counts)]
        equation = self.book.count(bag)
        count = max(1, sum(equation.values()) - equation["not logged"] + more)
        self.do(lambda: Bag.objects.get(pk=bag).count_again(count, by=self.ada), when)
        self.book.counts[bag] = count

    @precondition(lambda self: self.book.counts and len(self.orders) > len(self.book.closed))
    @rule(at=ANY, to=ANY, when=WHEN)
    def serve(self, at: int, to: int, when: int) -> None:
        order = self.open_one(to)
        bag = Bag.objects.get(pk=sorted(self.book.counts)[at % len(self.book.counts)])
        try:
            self.do(lambda: bag.serve(order, by=self.ada), when)
        except ValueError:  # two shirts of one number
            return
        self.book.serves[bag.pk].add(order.pk)

    @precondition(lambda self: self.book.lines)
    @rule(at=ANY, what=st.sampled_from(["give_back", "miss", "find", "strike"]), when=WHEN)
    def one_shirt_goes(self, at: int, what: str, when: int) -> None:
        book = self.book
        pk = sorted(book.lines)[at % len(book.lines)]
        line = book.lines[pk]
        held = any(book.panels[each].order or each in book.yeses for each in book.of_shirt(pk))
        verbs: dict[str, tuple[str, tuple[str, ...], dict[str, str]]] = {
            "give_back": ("returned", ("in work", "missing", "returned"), {}),
            "miss": ("missing", ("in work", "missing", "returned"), {}),
            "find": ("in work", ("in work", "missing", "returned", "struck"), {}),
            "strike": ("struck", ("in work", "missing", "returned", "struck"), {"why": "twice"}),
        }
        after, allowed, told = verbs[what]
        is_allowed = line.state in allowed and not (what == "strike" and held)
        too_many = what == "find" and line.state == "struck"
        if too_many and book.count(line.bag)["not logged"] < line.garments:
            return
        try:
            self.do(lambda: getattr(Shirt.objects.get(pk=pk), what)(by=self.ada, **told), when)
        except ValueError:
            assert not is_allowed
            return
        assert is_allowed
        line.state = after

    @precondition(lambda self: self.book.cut)
    @rule(to=ANY, leftovers=st.sampled_from(["returned", "discarded"]), when=WHEN)
    def post(self, to: int, leftovers: str, when: int) -> None:
        order, book = self.open_one(to), self.book
        answers = handing_over.Answers(
            to=NAMES[2], why_unpaid="a gift", whole=True, leftovers=leftovers, leave_by=NAMES[2], needles=True
        )
        try:
            self.do(lambda: handing_over.hand_over(order, answers, by=self.ada), when)
        except handing_over.NotYet:
            assert not book.may_leave(order.pk)
            return
        assert book.may_leave(order.pk)
        book.leave(order.pk, leftovers)
        if len(self.orders) - len(book.closed) < 2:
            self.orders.append(self.open_order())
