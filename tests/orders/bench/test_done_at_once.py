"""Two people finish one stage in the same moment: it is done once, by one of them, with one deed."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.utils import timezone

from orders.bench import work
from orders.models import Event, Stage
from tests.orders.test_quotes_at_once import at_once
from tests.orders.workbench import let_help

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def binding(order, shop, ada, bo):
    let_help(bo, "bind")
    stage = Stage.objects.create(order=order, kind="bind", position=0, minutes=60)
    work.start(stage, by=ada, now=timezone.now() - timedelta(minutes=45))
    return stage


def test_two_people_who_finish_a_stage_at_once_finish_it_once(binding, ada, bo):
    outcomes = at_once(*(lambda by=by: work.finish(binding, by=by) for by in (ada, bo)))
    deeds = [each for each in outcomes if each is not None]
    assert len(deeds) == 1
    assert isinstance(deeds[0], Event)
    done = Stage.objects.get()
    assert (done.spent, done.started_at, done.person_id) == (45, None, deeds[0].by_id)
    assert Event.objects.filter(what="done").count() == 1
    assert Event.objects.filter(what="bench").count() == 1


def test_one_who_lays_down_while_the_other_finishes_counts_the_minutes_once(binding, ada, bo):
    assert not [
        each
        for each in at_once(lambda: work.pause(binding, by=ada), lambda: work.finish(binding, by=bo))
        if isinstance(each, Exception)
    ]
    done = Stage.objects.get()
    assert done.done_at is not None
    assert done.spent == 45
