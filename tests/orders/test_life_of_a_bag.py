"""The life of a bag, lived many times over: the count holds after each step, wherever the lights go out."""

from __future__ import annotations

from collections.abc import ItemsView

import pytest
from django.db import connection
from hypothesis import HealthCheck, Phase, seed, settings
from hypothesis import strategies as st
from hypothesis.stateful import invariant, precondition, rule, run_state_machine_as_test

from orders.models import Bag, NoYes
from orders.models import cut as cut_now
from tests.orders.lives.cutting import Cutting
from tests.orders.lives.entries import Line
from tests.orders.lives.leaving import LACKING, Leaving
from tests.orders.lives.world import ANY, WHEN

STEPS, LIVES, PARTS = 60, 118, 4


class LifeOfABag(Leaving, Cutting):
    """Every rule is one act of the trade, by the shop's own verb."""

    counted: object = None

    @precondition(lambda self: self.book.agreed_crops())
    @rule(at=ANY)
    def crop_otherwise_and_cut(self, at: int) -> None:
        """The crop that was said yes to is moved: the blade stays away until it is asked about again."""
        agreed = self.book.agreed_crops()
        pk = agreed[at % len(agreed)]
        place, box = sorted(self.book.panels).index(pk), self.book.yeses[pk].facts[0]
        self.crop(at=place, box=3 - box, when=0)
        with pytest.raises(NoYes):
            self.do(lambda: cut_now([self.piece(pk)], by=self.ada), 0)
        self.crop(at=place, box=box, when=0)  # as it was agreed: the yes stands again
        self.cut(at=place, which=0, when=0)

    @precondition(lambda self: self.with_shirts_here())
    @rule(to=ANY, lacking=st.sampled_from(LACKING), when=WHEN)
    def all_is_cut_and_it_leaves(self, to: int, lacking: str, when: int) -> None:
        here = self.with_shirts_here()
        order = here[to % len(here)]
        self.yes_to_the_pile(to=self.open_orders().index(order), but=1, day=False, when=0)
        for _ in range(3):
            self.cut(at=0, which=1, when=0)
        if order in self.with_shirts_here():
            self.one_thing_alone_keeps_it_here(
                to=self.with_shirts_here().index(order), lacking=lacking, when=when
            )

    @invariant()
    def the_count_holds(self) -> None:
        if not hasattr(self, "book"):
            return
        with connection.cursor() as cursor:
            bags = cursor.execute("SELECT id, count, handed_back_at FROM orders_bag ORDER BY id").fetchall()
            shirts = cursor.execute(
                "SELECT id, bag_id, state, leftovers, garments FROM orders_shirt ORDER BY id"
            ).fetchall()
        assert {id: count for id, count, _ in bags} == self.book.counts
        assert {id for id, _, back in bags if back} == self.book.back
        assert {id: (line.bag, line.state, line.leftovers, line.garments) for id, line in self.lines()} == {
            id: tuple(rest) for id, *rest in shirts
        }
        if (bags, shirts) != self.counted:  # the shop's own equation is a matter of these rows alone
            self.counted = (bags, shirts)
            self.the_equation_adds_up()

    def lines(self) -> ItemsView[int, Line]:
        return self.book.lines.items()

    def the_equation_adds_up(self) -> None:
        for bag in Bag.objects.prefetch_related("shirts"):
            tally = bag.tally()
            said = (tally.in_work, tally.used, tally.returned, tally.discarded, tally.not_logged)
            assert said == tuple(self.book.count(bag.pk).values())
            assert bag.count == sum(said)

    @invariant()
    def no_cut_without_its_yes(self) -> None:
        if not hasattr(self, "book"):
            return
        with connection.cursor() as cursor:
            rows = cursor.execute(
                "SELECT yes.piece_id, yes.order_id, yes.until, cut.at FROM orders_approvedpiece yes"
                " LEFT JOIN orders_cut cut ON cut.approved_id = yes.id WHERE yes.withdrawn_at IS NULL"
            ).fetchall()
            (every,) = cursor.execute("SELECT count(*) FROM orders_cut").fetchone()
        now = self.moment if connection.vendor == "postgresql" else self.moment.replace(tzinfo=None)
        cut = {piece: order for piece, order, _, at in rows if at}
        assert cut == self.book.cut
        assert every == len(cut)
        assert all(until is None or at < until for _, _, until, at in rows if at)
        standing = {piece for piece, _, until, at in rows if at or until is None or until > now}
        assert standing == {pk for pk in self.book.yeses if self.book.stands(pk)}


@pytest.mark.slow
@pytest.mark.django_db
@pytest.mark.parametrize("part", range(PARTS))
def test_the_count_holds_through_a_quarter_of_twenty_five_thousand_steps_of_bags_lives(part: int) -> None:
    """Two workers share the parts; each has a seed of its own, so no life is lived twice."""
    how = settings(
        max_examples=LIVES,
        stateful_step_count=STEPS,
        database=None,
        deadline=None,
        suppress_health_check=list(HealthCheck),
        phases=[Phase.generate, Phase.shrink],
    )
    LifeOfABag.tally.update(steps=0, crashes=0, cuts=0, left=0)
    run_state_machine_as_test(seed(20_270_301 + part)(LifeOfABag), settings=how)
    assert LifeOfABag.tally["steps"] >= 25_000 // PARTS
    assert LifeOfABag.tally["crashes"] >= 1_000 // PARTS
    assert LifeOfABag.tally["cuts"] >= 300 // PARTS
    assert LifeOfABag.tally["left"] >= 100 // PARTS
