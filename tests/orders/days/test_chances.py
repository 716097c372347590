"""Chances of being on time: told from ten finished quilts on, and before that not at all."""

import pytest
from django.utils import timezone

from orders.background import errands
from orders.days.chances import KIND, chances_now
from orders.days.own_pace import bias_of_estimates, own_share
from orders.models import Errand, Order, Stage
from orders.templatetags.weeks import of_ten

pytestmark = pytest.mark.django_db


def finished(aunt, ada, spent):
    order = Order.objects.open(title=f"Done in {spent}", customer=aunt, by=ada)
    now = timezone.now()
    Stage.objects.create(order=order, kind="bind", position=0, minutes=300, spent=spent, done_at=now)
    order.hand_over("her", by=ada)


def reckoned():
    errands.send(KIND, key="a day")
    errands.run_due()
    return Errand.objects.filter(kind=KIND).latest("pk")


def test_nine_finished_quilts_tell_no_chance(order, aunt, ada, shop):
    Stage.objects.create(order=order, kind="bind", position=0, minutes=600)
    for number in range(9):
        finished(aunt, ada, 300 + 10 * number)
    assert bias_of_estimates() is None
    assert own_share(shop) is None
    assert "from 10 finished quilts on" in reckoned().outcome
    assert chances_now(shop) is None


def test_ten_finished_quilts_tell_it_and_the_page_says_from_how_many(order, aunt, ada, shop, client):
    Stage.objects.create(order=order, kind="bind", position=0, minutes=600)
    for number in range(10):
        finished(aunt, ada, 300 + 10 * number)
    spread, jobs = bias_of_estimates()
    assert jobs == 10
    assert 0.05 <= spread < 0.2
    assert own_share(shop) == (round(100 * 3450 / (1500 * 12)), 10)
    assert reckoned().state == "done"
    assert chances_now(shop).of[str(order)] == 1.0
    client.force_login(ada)
    seen = client.get("/weeks/").content.decode()
    assert "as good as sure" in seen
    assert "on your 10 finished quilts" in seen


def test_yesterdays_chances_are_not_told(order, aunt, ada, shop):
    Stage.objects.create(order=order, kind="bind", position=0, minutes=600)
    for _ in range(10):
        finished(aunt, ada, 300)
    last = reckoned()
    last.payload["day"] = "2020-01-01"
    last.save()
    assert chances_now(shop) is None


@pytest.mark.parametrize(
    ("chance", "words"),
    [(1.0, "as good as sure"), (0.94, "9 times in 10"), (0.7, "7 times in 10"), (0.1, "1 time in 10"),
     (0.04, "hardly")],
)  # fmt: skip
def test_a_chance_is_told_in_words(chance, words):
    assert of_ten(chance) == words
