"""If…: tried on paper, who becomes late and what mends it; done or put away."""

from datetime import date, timedelta

import pytest

from orders.background import errands
from orders.days import supposing
from orders.days.replanning import plan_now, take_back
from orders.days.supposed import do, in_words, outcome_of
from orders.models import DayOff, Enquiry, Order, Overtime, Stage

pytestmark = pytest.mark.django_db


@pytest.fixture
def binding(order, shop):
    """Return an order with 25 hours of work, two weeks before the day it must be done."""
    order.needed_by, order.cushion_days = shop.today() + timedelta(days=14), 0
    order.save()
    Stage.objects.create(order=order, kind="bind", position=0, minutes=1500)
    return order


def a_fever(shop, days):
    return {"kind": "ill", "person": "Ada", "first": shop.today().isoformat(),
            "last": (shop.today() + timedelta(days=days)).isoformat()}  # fmt: skip


def tried(question):
    asked = supposing.ask(question)
    errands.run_due()
    asked.refresh_from_db()
    return asked


def test_a_fever_makes_a_quilt_late_and_overtime_mends_it(binding, shop):
    asked = tried(a_fever(shop, 11))
    outcome = outcome_of(asked, shop)
    (late,) = outcome.late
    assert late.order == binding
    assert late.days > 0
    # bench days left between the fever and the due: never enough for 25 h, so some overtime is proved
    assert 0 < outcome.at_least <= outcome.enough
    assert sum(minutes for _, _, minutes in outcome.weeks) == outcome.enough
    assert "would be late" in asked.outcome
    assert not DayOff.objects.exists()


def test_doing_it_with_the_overtime_keeps_the_day_and_is_taken_back_whole(binding, shop, ada):
    asked = tried(a_fever(shop, 11))
    made = do(asked, shop, with_overtime=True, by=ada)
    _, table = plan_now(shop)
    assert table.late[str(binding)] == 0
    assert DayOff.objects.filter(why="ill").count() == 12
    assert sum(Overtime.objects.values_list("minutes", flat=True)) == asked.payload["answer"]["enough"]
    take_back(made, by=ada)
    assert not DayOff.objects.exists()
    assert not Overtime.objects.exists()


def test_a_short_fever_makes_nobody_late(binding, shop):
    asked = tried(a_fever(shop, 0))
    assert asked.outcome == "No quilt becomes late."
    assert outcome_of(asked, shop).late == ()


def test_what_is_late_already_is_told_apart_from_what_becomes_late(binding, shop, aunt, ada):
    overdue = Order.objects.open(
        title="Overdue", customer=aunt, by=ada, needed_by=shop.today() - timedelta(days=3)
    )
    Stage.objects.create(order=overdue, kind="bind", position=0, minutes=1500)
    late = outcome_of(tried(a_fever(shop, 20)), shop).late
    assert [(each.order, each.already) for each in late] == [(overdue, True), (binding, False)]


def test_work_that_takes_longer_is_tried_and_done(binding, shop, ada):
    stage = binding.stages.get()
    question = {"kind": "slip", "stage": "1 bind", "key": stage.pk, "minutes": 3000}
    asked = tried(question)
    assert outcome_of(asked, shop).late[0].order == binding
    do(asked, shop, with_overtime=False, by=ada)
    assert binding.stages.get().minutes == 4500


def test_cloth_that_is_late_holds_the_work_back(binding, shop, ada):
    stage = binding.stages.get()
    day = shop.today() + timedelta(days=12)
    question = {"kind": "cloth", "stage": "1 bind", "key": stage.pk, "day": day.isoformat()}
    asked = tried(question)
    assert outcome_of(asked, shop).late[0].order == binding
    do(asked, shop, with_overtime=False, by=ada)
    assert binding.stages.get().waits_until == day


def test_one_more_order_that_cannot_keep_its_own_day_says_so(binding, shop):
    asked_for = Enquiry.objects.create(
        name="A coach", reach="555 0101", shirts=20, needed_by=shop.today() + timedelta(days=12)
    )
    asked = tried({"kind": "more", "enquiry": asked_for.pk})
    assert asked.state == "done"
    # its shirts are here in seven days, and it waits four more for its picture and its wash
    assert outcome_of(asked, shop).itself > asked_for.needed_by - timedelta(days=2)
    assert in_words(asked.payload["question"]) == "One more order: A coach"


@pytest.mark.parametrize(
    ("question", "words"),
    [
        (
            {"kind": "ill", "person": "Nobody", "first": "2027-01-04", "last": "2027-01-05"},
            "does not work here",
        ),
        ({"kind": "slip", "stage": "1 finish", "key": 1, "minutes": 5}, "is done, or not planned"),
        ({"kind": "more", "enquiry": 999}, "is an order already"),
    ],
)
def test_what_makes_no_sense_any_more_says_so(binding, shop, question, words):
    asked = tried(question)
    assert asked.state == "failed"
    assert words in asked.outcome


def test_asking_again_while_it_is_tried_asks_once_and_something_else_replaces_it(binding, shop):
    first = supposing.ask(a_fever(shop, 1))
    assert supposing.ask(a_fever(shop, 1)).pk == first.pk
    second = supposing.ask(a_fever(shop, 2))
    assert supposing.standing() == second
    first.refresh_from_db()
    assert first.state == "stopped"
    supposing.put_away(second)
    assert supposing.standing() is None


def test_nobody_need_be_asked_within_the_days_kept_free(binding, shop):
    binding.needed_by, binding.cushion_days = shop.today() + timedelta(days=34), 20
    binding.save()
    (late,) = outcome_of(tried(a_fever(shop, 11)), shop).late
    assert not late.is_after_her_day


def test_nobody_who_is_ill_makes_up_for_it_on_a_day_off_in_between(binding, shop):
    asked = tried(a_fever(shop, 11))
    days = [date.fromisoformat(day) for _, day, _ in asked.payload["answer"]["extra"]]
    worked = [shop.today() + timedelta(days=n) for n in range(12)]
    last_worked = max(day for day in worked if day.weekday() < 5)
    assert min(days) > last_worked


def test_a_memorial_is_never_asked_by_message(binding, shop, client, ada):
    Order.objects.update(memorial=True)
    tried(a_fever(shop, 11))
    client.force_login(ada)
    seen = client.get("/weeks/if/").content.decode()
    assert "in person, or wait" in seen
    assert "something came between" not in seen


def test_overtime_is_added_up_by_person_and_week():
    extra = [["Ada", "2026-12-28", 30], ["Ada", "2027-01-03", 60], ["Ada", "2027-01-04", 15]]
    # the week of 28 December 2026 is the 53rd of its year and goes over the new one
    assert supposing.overtime_by_week(extra) == [
        ("Ada", date(2026, 12, 28), 90),
        ("Ada", date(2027, 1, 4), 15),
    ]
    assert date(2027, 1, 3).isocalendar().week == 53
