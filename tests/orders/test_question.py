"""Questions that are worded once: the same answers, and only what is sought is filled in anew."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from orders.customer.telling import left_of, state_of
from orders.models import Consent, Order, Stage
from orders.models.as_seen import cards_of_the_workroom, order_in_its_room, planned_in_the_workroom
from orders.models.question import Question
from orders.quilt.quilt_looks import draw_of

pytestmark = pytest.mark.django_db


def test_the_words_are_made_once_and_each_answer_is_of_now(agreed):
    made = []
    question = Question(lambda order: made.append(order) or Stage.objects.filter(order=order), order=int)
    first = question.ask(order=agreed.pk)
    Stage.objects.filter(pk=first[0].pk).delete()
    assert question.ask(order=agreed.pk) == list(Stage.objects.filter(order=agreed)) == first[1:]
    assert question.ask(order=agreed.pk + 1) == []
    assert len(made) == 1


def test_a_moment_that_is_sought_is_filled_in(agreed, ada):
    consent = Consent.objects.to_cut(agreed, [], said_by="the aunt", how="phone", by=ada)
    Consent.objects.filter(pk=consent.pk).update(until=timezone.now() + timedelta(hours=1))
    question = Question(lambda now: Consent.objects.standing(at=now).filter(kind="cut"), now=datetime)
    assert question.ask(now=timezone.now()) == [consent]
    assert question.ask(now=timezone.now() + timedelta(hours=2)) == []


def test_a_question_that_looks_at_the_clock_itself_is_refused(shop):
    with pytest.raises(ValueError, match="moment of its own"):
        Question(lambda: Consent.objects.standing()).ask()
    with pytest.raises(ValueError, match="a day"):
        Question(lambda: Order.objects.filter(needed_by__gt=shop.today())).ask()


def test_an_answer_cannot_change_the_question(agreed):
    question = Question(lambda: Order.objects.all())
    question.ask()[0].title = "Another"
    assert [order.title for order in question.ask()] == [agreed.title]


def test_cards_of_the_workroom_are_those_of_the_plain_list(agreed, ada, aunt, shop):
    Order.objects.open(title="Nothing yet", customer=aunt, by=ada)
    gone = Order.objects.open(title="Gone", customer=aunt, by=ada)
    gone.hand_over("the aunt", by=ada)
    plain = list(Order.objects.in_the_workroom().as_cards().soonest_first())
    worded = cards_of_the_workroom()
    assert worded == plain
    assert gone not in worded
    for one, other in zip(worded, plain, strict=True):
        assert state_of(one, today=shop.today()) == state_of(other, today=shop.today())
        assert left_of(one, today=shop.today()) == left_of(other, today=shop.today())
        assert draw_of(one) == draw_of(other)


def test_an_order_in_its_room_is_the_plain_one_and_can_be_asked_further(agreed, shop):
    plain = Order.objects.with_state().with_little_quilt().get(number=agreed.number)
    worded = order_in_its_room(agreed.number)
    assert worded == plain
    assert state_of(worded, today=shop.today()) == state_of(plain, today=shop.today())
    assert draw_of(worded) == draw_of(plain)
    assert list(worded.stages.all()) == list(plain.stages.all())
    assert list(worded.stages.filter(kind="cut")) == list(plain.stages.filter(kind="cut"))
    assert order_in_its_room(agreed.number + 1) is None


def test_what_hangs_on_the_orders_is_asked_once_for_all_of_them(agreed, ada, aunt):
    def asked():
        with CaptureQueriesContext(connection) as queries:
            for order in planned_in_the_workroom():
                _ = [stage.order.title for stage in order.stages.all()], order.blocks.all()
        return len(queries)

    few = asked()
    for number in range(5):
        Order.objects.open(title=f"Another {number}", customer=aunt, by=ada)
    assert asked() == few == 3
