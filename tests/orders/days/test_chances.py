"""Chances of being on time: told from ten finished quilts on, and before that not at all."""

from datetime import timedelta

import pytest
from django.utils import timezone

from orders.background import errands
from orders.days.chances import KIND, chances_now
from orders.days.own_pace import bias_of_estimates, own_share, take_over_own_share, whole_jobs
from orders.days.replanning import take_back
from orders.models import DayOff, Errand, Order, Replan, Shop, Stage
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


def test_chances_are_tried_out_on_the_quilts_that_came_after(order, aunt, ada, shop, client):
    Stage.objects.create(order=order, kind="bind", position=0, minutes=600)
    for number in range(10):
        finished(aunt, ada, 300 + 10 * (number % 3))
    reckoned()
    assert chances_now(shop).tried == 0
    for spent in (310, 900):
        finished(aunt, ada, spent)
    Errand.objects.all().delete()
    reckoned()
    assert (chances_now(shop).tried, chances_now(shop).kept) == (2, 1)
    client.force_login(ada)
    assert "1 of the last 2 took no longer" in client.get("/weeks/").content.decode()


def test_a_quilt_whose_clocks_were_forgotten_is_no_job_to_reckon_with(aunt, ada, shop):
    for _ in range(10):
        finished(aunt, ada, 300)
    Stage.objects.filter(order=Order.objects.first()).update(clock="forgotten")
    assert len(whole_jobs()) == 9
    assert bias_of_estimates() is None


def test_from_ten_quilts_on_the_share_is_the_shops_own_and_the_change_can_be_undone(order, aunt, ada, shop):
    Shop.objects.update(planned_share=80)
    Stage.objects.create(order=order, kind="bind", position=0, minutes=600)
    for _ in range(9):
        finished(aunt, ada, 1000)
    assert take_over_own_share(Shop.objects.get()) is None
    finished(aunt, ada, 1000)
    reckoned()
    assert Shop.objects.get().planned_share == 56
    made = Replan.objects.get()
    assert made.by is None
    assert made.why.startswith(
        "On 10 finished quilts 56 % of the hours went into stages, so 56 % are planned"
    )
    take_back(made, by=ada)
    assert (Shop.objects.get().planned_share, Shop.objects.get().share_by_hand) == (80, True)
    assert take_over_own_share(Shop.objects.get()) is None


def test_a_share_a_few_per_cent_off_is_let_be_and_days_off_are_no_hours(aunt, ada, shop):
    for _ in range(10):
        finished(aunt, ada, 1000)
    Shop.objects.update(planned_share=58)
    assert take_over_own_share(Shop.objects.get()) is None
    for back in range(1, 43):
        DayOff.objects.create(day=shop.today() - timedelta(days=back), person=ada)
    assert own_share(shop)[0] == 100
    assert take_over_own_share(Shop.objects.get()) is not None
    assert Shop.objects.get().planned_share == 95


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
