"""The life of a bag, lived many times over: the count holds after each step, wherever the lights go out."""

from __future__ import annotations

import pytest
from django.db import connection
from hypothesis import HealthCheck, Phase, settings
from hypothesis.stateful import invariant, run_state_machine_as_test

from orders.models import Bag
from tests.orders.lives.arriving import Arriving
from tests.orders.lives.cutting import Cutting

STEPS, LIVES = 60, 520


class LifeOfABag(Arriving, Cutting):
    """Every rule is one act of the trade, by the shop's own verb."""

    @invariant()
    def the_count_holds(self) -> None:
        if not hasattr(self, "book"):
            return
        bags = Bag.objects.prefetch_related("shirts")
        for bag in bags:
            tally, by_hand = bag.tally(), self.book.count(bag.pk)
            said = (tally.in_work, tally.used, tally.returned, tally.discarded, tally.not_logged)
            assert said == tuple(by_hand.values())
            assert (
                bag.count == tally.in_work + tally.used + tally.returned + tally.discarded + tally.not_logged
            )
            for shirt in bag.shirts.all():
                line = self.book.lines[shirt.pk]
                assert (shirt.state, shirt.leftovers, shirt.garments) == (
                    line.state,
                    line.leftovers,
                    line.garments,
                )
        assert len(bags) == len(self.book.counts)

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
        now = self.moment.replace(tzinfo=None)  # as SQLite keeps a moment
        cut = {piece: order for piece, order, _, at in rows if at}
        assert cut == self.book.cut
        assert every == len(cut)
        assert all(until is None or at < until for _, _, until, at in rows if at)
        standing = {piece for piece, _, until, at in rows if at or until is None or until > now}
        assert standing == {pk for pk in self.book.yeses if self.book.stands(pk)}


@pytest.mark.slow
@pytest.mark.django_db
def test_the_count_holds_through_twenty_five_thousand_steps_of_bags_lives():
    how = settings(
        max_examples=LIVES,
        stateful_step_count=STEPS,
        derandomize=True,
        database=None,
        deadline=None,
        suppress_health_check=list(HealthCheck),
        phases=[Phase.generate, Phase.shrink],
    )
    LifeOfABag.tally.update(steps=0, crashes=0, cuts=0)
    run_state_machine_as_test(LifeOfABag, settings=how)
    assert LifeOfABag.tally["steps"] >= 25_000
    assert LifeOfABag.tally["crashes"] >= 1_000
    assert LifeOfABag.tally["cuts"] >= 300
