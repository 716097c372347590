"""Leftovers are counted back, the door asks its questions, and quilts leave with all that is theirs."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from hypothesis import strategies as st
from hypothesis.stateful import precondition, rule

from orders.bag import leftovers
from orders.customer import handing_over
from orders.models import Bag, Consent, Order, Parcel, Shirt
from tests.orders.lives.arriving import Arriving
from tests.orders.lives.entries import Door
from tests.orders.lives.world import ANY, NAMES, WHEN, World, everything

RARELY = st.sampled_from([0, 0, 0, 0, 0, 0, 0, 1])
TICKED = st.sampled_from([True] * 9 + [False])
ANSWERS = st.builds(
    Door,
    whole=TICKED,
    needles=TICKED,
    leftovers=st.sampled_from(["discarded", "returned"] * 4 + [""]),
    leave=TICKED,
    packed=TICKED,
)
UNTICKED: dict[str, dict[str, Any]] = {
    "whole": {"whole": False},
    "needles": {"needles": False},
    "the box": {"packed": False},
    "what becomes of them": {"leftovers": ""},
    "leave": {"leftovers": "discarded", "leave": False},
}
BOX: dict[str, Any] = {
    "address": "1 Mill Lane, Alder Steps",
    "carrier": NAMES[2],
    "value": 0,
    "transit_days": 3,
}
LACKING = ("nothing", "nothing", "a shirt", "a bundle", "a garment", *UNTICKED)


class Leaving(Arriving):
    @precondition(lambda self: self.book.cut)
    @rule(to=ANY, but=ANY, when=WHEN)
    def count_leftovers(self, to: int, but: int, when: int) -> None:
        order, book = self.open_one(to), self.book
        due = book.bundles(book.in_bags_of(order.pk))
        self.count_bundles(order, [pk for number, pk in enumerate(due) if (number + but) % 3], when)

    def count_bundles(self, order: Order, here: list[int], when: int) -> None:
        due = self.book.bundles(self.book.in_bags_of(order.pk))
        counted = self.do(lambda: leftovers.count(order, here, by=self.ada), when)
        assert (len(counted.there), len(counted.lacking)) == (len(here), len(due) - len(here))
        self.book.not_there[order.pk] = set(due) - set(here)

    @precondition(lambda self: self.book.cut)
    @rule(to=ANY, door=ANSWERS, when=WHEN)
    def post(self, to: int, door: Door, when: int) -> None:
        self.leave(self.open_one(to), door, when)

    @precondition(lambda self: self.book.cut)
    @rule(to=ANY, door=ANSWERS, short=RARELY, lost=RARELY, when=WHEN)
    def make_ready_and_post(self, *, to: int, door: Door, short: int, lost: int, when: int) -> None:
        order = self.open_one(to)
        self.make_ready(order, short=short, lost=lost)
        self.leave(order, door, when)

    @precondition(lambda self: self.with_shirts_here())
    @rule(to=ANY, lacking=st.sampled_from(LACKING), when=WHEN)
    def one_thing_alone_keeps_it_here(self, to: int, lacking: str, when: int) -> None:
        here, book = self.with_shirts_here(), self.book
        order = here[to % len(here)]
        self.make_ready(order, short=int(lacking == "a garment"), lost=int(lacking == "a shirt"))
        due = book.bundles(book.in_bags_of(order.pk))
        self.count_bundles(order, due[1:] if lacking == "a bundle" else due, 0)
        ready = Door(whole=True, needles=True, leftovers="returned", leave=True, packed=True)
        self.leave(order, replace(ready, **UNTICKED.get(lacking, {})), when)

    def with_shirts_here(self) -> list[Order]:
        """The open orders whose door has shirts or leftovers to ask about."""
        book = self.book
        every = self.open_orders()
        concerned = {order.pk: book.concerned(order.pk) for order in every}
        states = {pk: {book.lines[each].state for each in those} for pk, those in concerned.items()}
        return [
            order for order in every if "in work" in states[order.pk] or book.bundles(concerned[order.pk])
        ]

    def make_ready(self, order: Order, *, short: int, lost: int) -> None:
        """All is found and counted again, but for `short` garments of a bag, and `lost` shirts."""
        book = self.book
        concerned = book.concerned(order.pk)
        for pk in [pk for pk in concerned if book.lines[pk].state == "missing"][lost:]:
            self.do(lambda pk=pk: Shirt.objects.get(pk=pk).find(by=self.ada), 0)
            book.lines[pk].state = "in work"
        for pk in [pk for pk in concerned if book.lines[pk].state == "in work"][:lost]:
            self.do(lambda pk=pk: Shirt.objects.get(pk=pk).miss(by=self.ada), 0)
            book.lines[pk].state = "missing"
        for bag in book.bags_of(order.pk):
            equation = book.count(bag)
            count = sum(equation.values()) - equation["not logged"] + short
            if count and count != book.counts[bag]:
                self.do(
                    lambda bag=bag, count=count: Bag.objects.get(pk=bag).count_again(count, by=self.ada), 0
                )
                book.counts[bag] = count

    def leave(self, order: Order, door: Door, when: int) -> None:
        book = self.book
        answers = handing_over.Answers(
            to=NAMES[2],
            why_unpaid="a gift",
            whole=door.whole,
            leftovers=door.leftovers,
            leave_by=NAMES[2] if door.leave else "",
            needles=door.needles,
        )
        if door.packed and order.pk not in book.packed:
            self.do(lambda: Parcel.objects.pack(order, by=self.ada, **BOX), 0)
            book.packed.add(order.pk)
        bundles = book.bundles(book.concerned(order.pk))
        try:
            self.do(lambda: handing_over.hand_over(order, answers, by=self.ada), when)
        except handing_over.NotYet:
            assert not book.may_leave(order.pk, door)
            return
        assert book.may_leave(order.pk, door)
        World.tally["left"] += 1
        book.leave(order.pk, door.leftovers)
        self.the_second_time_changes_nothing(order, answers)
        if door.leftovers == "discarded":
            agreed = Shirt.objects.filter(pk__in=bundles, consent__kind=Consent.Kind.DISCARD)
            assert agreed.filter(consent__order=order).count() == len(bundles)
        if len(self.orders) - len(book.closed) < 2:
            self.orders.append(self.open_order())

    def the_second_time_changes_nothing(self, order: Order, answers: handing_over.Answers) -> None:
        before = everything()
        handing_over.hand_over(order, answers, by=self.ada)
        assert everything() == before
