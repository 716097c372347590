"""Bags come in, are counted, tagged, shared; shirts go back, are missed, found, struck."""

from __future__ import annotations

from hypothesis import strategies as st
from hypothesis.stateful import initialize, precondition, rule

from orders.bag import intake
from orders.models import Bag, Order, Shirt
from tests.orders.lives.agreeing import Agreeing
from tests.orders.lives.entries import Line, Panel
from tests.orders.lives.world import ANY, NAMES, WHEN


class Arriving(Agreeing):
    @initialize(logged=st.integers(3, 5), shared=st.booleans(), contested=st.booleans())
    def a_bag_to_begin_with(self, logged: int, shared: bool, contested: bool) -> None:
        """A life in which nothing is in the bag for long tells little."""
        self.open_the_shop()
        self.receive(at=0, count=6, when=0)
        for number in range(logged):
            self.tag(at=0, keep="both" if number == 2 else "front", together=False, when=0)
        self.crop(at=0, box=1, when=0)
        self.crop(at=1, box=2, when=0)
        if shared:
            self.serve(at=0, to=1, when=0)
        if contested:
            self.ask_singly(at=1, names={NAMES[0]}, day=False, when=0)
            self.yes_to_one(to=0, at=0, who=0, day=False, when=0)

    @precondition(lambda self: len(self.book.counts) < 3)
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

    def to_serve(self) -> list[tuple[int, Order]]:
        """The bags with the open orders they do not serve yet."""
        open_ones = [order for order in self.orders if order.pk not in self.book.closed]
        serves = self.book.serves
        return [
            (bag, order)
            for bag in sorted(serves)
            for order in open_ones
            if order.pk not in serves[bag] and (bag, order.pk) not in self.apart
        ]

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
            least = 14 if piece.side.startswith("back") else 12
            self.book.panels[piece.pk] = Panel(piece.name, shirt.pk, least, wanted=piece.wanted)

    @precondition(lambda self: self.recounts < 3)
    @rule(at=ANY, more=st.integers(0, 3), when=WHEN)
    def count_again(self, at: int, more: int, when: int) -> None:
        bag = sorted(self.book.counts)[at % len(self.book.counts)]
        equation = self.book.count(bag)
        count = max(1, sum(equation.values()) - equation["not logged"] + more)
        self.do(lambda: Bag.objects.get(pk=bag).count_again(count, by=self.ada), when)
        self.book.counts[bag] = count
        self.recounts += 1

    @precondition(lambda self: self.to_serve())
    @rule(at=ANY, to=ANY, when=WHEN)
    def serve(self, at: int, to: int, when: int) -> None:
        pairs = self.to_serve()
        pk, order = pairs[(at + to) % len(pairs)]
        try:
            self.do(lambda: Bag.objects.get(pk=pk).serve(order, by=self.ada), when)
        except ValueError:  # two shirts of one number
            self.apart.add((pk, order.pk))
            return
        self.book.serves[pk].add(order.pk)

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
