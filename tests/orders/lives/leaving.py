"""Leftovers are counted back, the door asks its questions, and quilts leave with all that is theirs."""

from __future__ import annotations

from hypothesis import strategies as st
from hypothesis.stateful import precondition, rule

from orders.bag import leftovers
from orders.customer import handing_over
from orders.models import Bag, Consent, Order, Shirt
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
)


class Leaving(Arriving):
    @precondition(lambda self: self.book.cut)
    @rule(to=ANY, but=ANY, when=WHEN)
    def count_leftovers(self, to: int, but: int, when: int) -> None:
        order, book = self.open_one(to), self.book
        due = book.bundles(book.in_bags_of(order.pk))
        here = [pk for number, pk in enumerate(due) if (number + but) % 3]
        counted = self.do(lambda: leftovers.count(order, here, by=self.ada), when)
        assert (len(counted.there), len(counted.lacking)) == (len(here), len(due) - len(here))
        book.not_there[order.pk] = set(due) - set(here)

    @precondition(lambda self: self.book.cut)
    @rule(to=ANY, door=ANSWERS, when=WHEN)
    def post(self, to: int, door: Door, when: int) -> None:
        self.leave(self.open_one(to), door, when)

    @precondition(lambda self: self.book.cut)
    @rule(to=ANY, door=ANSWERS, short=RARELY, lost=RARELY, when=WHEN)
    def make_ready_and_post(self, *, to: int, door: Door, short: int, lost: int, when: int) -> None:
        """All is found and counted again, but for `short` garments of a bag, and `lost` shirts."""
        order, book = self.open_one(to), self.book
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
        self.leave(order, door, when)

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
