"""The state of an order as a sentence: each is read off what has happened."""

from datetime import timedelta

import pytest
from django.utils import timezone

from orders import planning
from orders.account import quoting
from orders.customer.telling import left_of, state_of
from orders.models import Block, Consent, Design, Entry, Order, Quote, Stage, cut
from planner.units import INCH
from tests.cast import add_shirt
from tests.shop_days import noon_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def told(order, shop):
    """Return the state of the order as (words, shape)."""

    def tell():
        seen = Order.objects.with_state().get(pk=order.pk)
        state = state_of(seen, today=shop.today())
        return state.words, state.shape

    return tell


@pytest.fixture
def drawn(order, twelve_shirts, shop, shelf, ada):
    """Return the order with a layout, its blocks and its stages."""
    plan = planning.plan_order(order, shop)
    offer = plan.options[0]
    Design.objects.create(order=order).draw(offer.layout.quilt, "Even grid", by=ada)
    planning.keep_blocks(order, offer.layout.quilt)
    planning.lay_out_work(order, offer.minutes, by=ada)
    return order


@pytest.fixture
def quoted(drawn, ada, shop):
    """Return the order with an open quote of 500 dollars, half of it due as deposit."""
    return Quote.objects.create(
        order=drawn, number=1, lines=[], currency="USD", net=50000, tax=0, total=50000, deposit=25000,
        issued_by=ada, valid_until=shop.today() + timedelta(days=14),
        issued_at=noon_of(shop, days_ago=9),
    )  # fmt: skip


@pytest.fixture
def begun(quoted, order, ada, shop):
    """Return the order with the price taken, the deposit paid, and a yes to cut all twelve."""
    quoted.accept(by="the aunt", how="phone", on=shop.today(), written_by=ada)
    pay(order, 25000, ada, shop)
    Consent.objects.to_cut(order, pieces(order), said_by="the aunt", how="person", by=ada)
    finish(order, ada, "log", "design", "wash")
    return order


def pieces(order):
    return [block.piece for block in order.blocks.exclude(piece=None).order_by("cell")]


def finish(order, by, *kinds):
    for stage in order.stages.filter(kind__in=kinds):
        stage.finish(by=by)


def pay(order, minor, by, shop):
    Entry.objects.record(
        key=f"deposit {order.pk}", kind="payment", legs=[("owed", "cash", minor)], by=by,
        order=order, day=shop.today(), words="Deposit", currency="USD",
    )  # fmt: skip


def wanted_in(order, days, shop):
    Order.objects.filter(pk=order.pk).update(needed_by=shop.today() + timedelta(days=days))


def test_an_order_without_a_bag_waits_for_it(order, told):
    order.bags.clear()
    assert told() == ("Waiting for her bag, since today", "wait")


def test_a_bag_is_logged_shirt_by_shirt(order, told):
    assert told() == ("Logging, 0 of 12", "work")
    add_shirt(order.bags.get(), 1)
    assert told() == ("Logging, 1 of 12", "work")


def test_a_sealed_bag_has_no_number_to_tell(order, told):
    order.bags.update(count=None)
    assert told() == ("Logging, none yet", "work")


def test_a_full_bag_is_drawn(order, twelve_shirts, told):
    assert told() == ("Drawing it", "work")


def test_a_drawn_quilt_gets_its_cloth_then_its_price(drawn, told):
    assert told() == ("Choosing her cloth", "work")
    Order.objects.filter(pk=drawn.pk).update(cloth={"sashing": "Gold"})
    assert told() == ("Pricing it", "work")


def test_a_repair_has_no_cloth_to_choose_and_is_priced(drawn, told):
    Order.objects.filter(pk=drawn.pk).update(kind="repair")
    assert told() == ("Pricing it", "work")


def test_a_pillow_that_was_priced_without_a_layout_waits_for_her_yes(order, twelve_shirts, shop, told, ada):
    Order.objects.filter(pk=order.pk).update(kind="pillow", width=16 * INCH, height=16 * INCH)
    shop.rules["rules"].append({"words": "Pillow", "per": "pillow", "rate": "55"})
    shop.save(update_fields=["rules"])
    assert told() == ("Drawing it", "work")
    quoting.issue(Order.objects.get(pk=order.pk), shop, by=ada)
    assert told() == ("Waiting for her yes, since today", "wait")


def test_a_price_waits_for_her_yes_and_counts_the_days(quoted, told):
    assert told() == ("Waiting for her yes, 9 days", "wait")


def test_a_price_taken_waits_for_the_deposit(quoted, order, told, ada, shop):
    quoted.accept(by="the aunt", how="phone", on=shop.today(), written_by=ada)
    Quote.objects.update(accepted_at=noon_of(shop, days_ago=5))
    assert told() == ("Her deposit, 5 days", "wait")
    pay(order, 24999, ada, shop)
    assert told() == ("Her deposit, 5 days", "wait")


def test_a_deposit_that_came_in_lets_the_work_begin(begun, told):
    assert told() == ("Cutting, 0 of 12", "work")


def test_the_pile_that_is_furthest_on_is_told(begun, told, ada):
    cut(pieces(begun), by=ada)
    finish(begun, ada, "cut")
    some = begun.blocks.exclude(piece=None).values_list("pk", flat=True)[:7]
    Block.objects.filter(pk__in=list(some)).update(progress="fused")
    assert told() == ("Fusing, 7 of 12", "work")


def test_a_picture_without_a_yes_does_not_stop_the_scissors(begun, told, ada):
    begun.design.freeze(by=ada)
    assert told() == ("Cutting, 0 of 12", "work")
    finish(begun, ada, "cut", "fuse", "trim", "make up")
    assert told() == ("Waiting for her yes, since today", "wait")


def test_a_yes_to_the_picture_lets_it_be_joined(begun, told, ada):
    version = begun.design.freeze(by=ada)
    Consent.objects.to_picture(version, said_by="the aunt", how="phone", by=ada)
    finish(begun, ada, "cut", "fuse", "trim", "make up")
    assert told()[0] == "Joining, 0 of 12"


def test_the_day_before_is_named(begun, told, ada, shop):
    finish(begun, ada, *(stage.kind for stage in begun.stages.all() if stage.kind not in ("bind", "finish")))
    wanted_in(begun, 1, shop)
    assert told() == ("Binding it for tomorrow", "work")
    wanted_in(begun, 0, shop)
    assert told() == ("Binding it for today", "work")


def test_a_day_that_is_past_is_late(begun, told, ada, shop):
    finish(begun, ada, *(stage.kind for stage in begun.stages.all() if stage.kind not in ("bind", "finish")))
    wanted_in(begun, -2, shop)
    assert told() == ("2 days late, binding", "late")


def test_a_memorial_shows_no_alarm_and_no_flag(begun, told, ada, shop):
    Order.objects.update(memorial=True)
    wanted_in(begun, -2, shop)
    assert told()[1] == "rest"
    assert "late" not in told()[0]
    finish(begun, ada, *Stage.objects.values_list("kind", flat=True))
    assert told() == ("Ready to collect", "rest")


def test_a_quilt_with_all_stages_done_is_ready(begun, told, ada):
    finish(begun, ada, *Stage.objects.values_list("kind", flat=True))
    assert told() == ("Ready to collect", "done")


def test_a_paused_order_rests_for_its_reason(begun, told, ada):
    begun.pause(why="until he writes", by=ada)
    assert told() == ("Resting until he writes", "rest")


def test_what_left_is_handed_over(begun, told):
    Order.objects.update(handed_over_at=timezone.now(), handed_to="the aunt")
    assert told() == ("Handed over", "done")


def test_a_repair_needs_no_bag_and_no_drawing(order, told, ada):
    Order.objects.update(kind="repair")
    order.bags.clear()
    Stage.objects.create(order=order, kind="bind", position=0, minutes=40)
    Consent.objects.to_cut(order, [], said_by="the aunt", how="phone", by=ada)
    assert told() == ("Binding", "work")


def test_work_left_and_days_left_are_counted(begun, shop):
    left = left_of(Order.objects.with_state().get(pk=begun.pk), today=shop.today())
    assert left.days == 70
    assert left.minutes == sum(stage.left for stage in begun.stages.all()) > 600


def test_sixty_orders_ask_no_more_queries_than_twelve(
    aunt, ada, shop, django_assert_num_queries, django_assert_max_num_queries
):
    def tell_all():
        return [state_of(order, today=shop.today()) for order in Order.objects.with_state()]

    for number in range(12):
        Order.objects.open(title=f"Quilt {number}", customer=aunt, by=ada)
    with django_assert_max_num_queries(8) as twelve:
        assert len(tell_all()) == 12
    for number in range(48):
        Order.objects.open(title=f"More {number}", customer=aunt, by=ada)
    with django_assert_num_queries(len(twelve)):
        assert len(tell_all()) == 60
