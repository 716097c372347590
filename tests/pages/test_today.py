"""Today: what to do now, what waits, and nothing of money for a helper."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.utils.html import strip_tags

from orders.bench.work import start
from orders.demo.clock import standing_at
from orders.models import Enquiry, Entry, Order, Quote, Replan, Stage, Visit
from tests.orders.workbench import do, draw, let_help, say_yes_to_cut
from tests.shop_days import noon_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def laid(order, twelve_shirts, shop, shelf, ada):
    """Return the order drawn; Ada is at the bench whatever weekday it is."""
    ada.week.minutes = [300] * 7
    ada.week.save()
    return draw(order, shop, ada)


@pytest.fixture
def signed_in(client, ada):
    client.force_login(ada)
    return client


def page(client):
    answer = client.get("/")
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split())


def open_quote(order, ada, shop, **more):
    return Quote.objects.create(
        order=order, number=1, lines=[], currency="USD", net=48600, tax=0, total=48600, deposit=24300,
        issued_by=ada, valid_until=shop.today() + timedelta(days=14), **more,
    )  # fmt: skip


def test_the_first_stage_has_one_big_start(signed_in, laid):
    seen = page(signed_in)
    assert "Log the shirts" in seen
    assert "The aunt’s surprise" in seen
    assert seen.count("button main big") == 1


def test_what_is_in_hand_has_one_big_done(signed_in, laid, ada):
    start(laid.stages.get(kind="log"), by=ada)
    seen = page(signed_in)
    assert "In hand since" in seen
    assert "Done</button>" in seen


def test_an_empty_shop_says_how_the_first_quilt_begins(signed_in, shop):
    assert "The first begins with an enquiry." in page(signed_in)


def test_cutting_is_not_on_the_list_without_a_yes(signed_in, laid, ada):
    do(laid, ada, "log", "design", "wash")
    assert "Rough-cut" not in page(signed_in)
    say_yes_to_cut(laid, ada)
    assert "Rough-cut 12 blocks" in page(signed_in)


def test_a_late_quilt_comes_before_all_others(signed_in, laid, ada, aunt, shop):
    late = Order.objects.open(
        title="The late one", customer=aunt, by=ada, needed_by=shop.today() - timedelta(days=2)
    )
    late.stages.create(kind="bind", position=0, minutes=90)
    seen = page(signed_in)
    assert "The late one, first: 2 days late" in seen
    assert seen.index("Sew on the binding") < seen.index("Log the shirts")


def test_a_memorial_is_not_called_late(signed_in, laid, shop):
    Order.objects.update(memorial=True, needed_by=shop.today() - timedelta(days=2))
    assert (
        "late" not in page(signed_in).split("<main")[1].replace('class="late', "").split("Ahead")[0].lower()
    )


def test_what_waits_is_told_with_its_days(signed_in, laid, ada, shop):
    quote = open_quote(laid, ada, shop, issued_at=noon_of(shop, days_ago=9))
    seen = page(signed_in)
    assert "A yes to the price" in seen
    assert "9 days waited" in seen
    quote.accept(by="the aunt", how="phone", on=shop.today(), written_by=ada)
    assert "The deposit of $243" in page(signed_in)
    Entry.objects.record(
        key="d", kind="payment", legs=[("owed", "cash", 24300)], by=ada, order=laid, day=shop.today(),
        words="Deposit", currency="USD",
    )  # fmt: skip
    assert "The deposit" not in page(signed_in)


def test_the_room_left_is_the_days_until_it_costs_one(signed_in, laid, ada, shop):
    laid.design.freeze(by=ada)
    seen = page(signed_in)
    assert "A yes to the picture" in seen
    assert "more days" in seen


def test_enquiries_and_penciled_places_wait(signed_in, shop, ada):
    asked = Enquiry.objects.create(name="A coach of Ferncliff", reach="555 0199", minutes=600)
    assert "An answer" in page(signed_in)
    asked.pencil_in(days=7, on=shop.today(), by=ada)
    seen = page(signed_in)
    assert "Penciled in" in seen
    assert "555 0199" not in seen


@pytest.mark.parametrize(("day", "is_told"), [(24, False), (25, True), (26, True)])
def test_a_change_of_the_calendar_is_told_on_its_day_and_the_day_after(signed_in, shop, ada, day, is_told):
    zone = ZoneInfo(shop.time_zone)
    Replan.objects.create(at=datetime(2026, 11, day, 8, tzinfo=zone), by=ada, why="Ada is ill")
    with standing_at(datetime(2026, 11, 26, 22, tzinfo=zone)):
        assert ("Ada is ill" in page(signed_in)) is is_told


def test_who_comes_today_stands_by_the_clock(signed_in, laid, shop):
    at = datetime.combine(shop.today(), datetime.min.time(), ZoneInfo(shop.time_zone)) + timedelta(hours=16)
    Visit.objects.create(order=laid, kind="drop-off", at=at)
    Visit.objects.create(order=laid, kind="look", at=at + timedelta(days=5))
    seen = page(signed_in)
    assert '4:00 pm <span class="whole">drop-off</span>' in seen
    assert "look," not in seen


def test_weeks_ahead_say_when_one_is_over(signed_in, laid, ada, shop):
    Order.objects.update(needed_by=shop.today() + timedelta(days=3))
    assert "over:" in page(signed_in)


def test_a_helper_sees_their_own_list_and_no_money(client, laid, ada, bo, shop):
    let_help(bo, "log", minutes=300)
    bo.week.minutes = [300] * 7
    bo.week.save()
    open_quote(laid, ada, shop)
    Enquiry.objects.create(name="A coach of Ferncliff", reach="555 0199")
    client.force_login(bo)
    seen = page(client)
    read = strip_tags(seen.split("<main")[1])  # an address may hold any number
    for hidden in ("$", "486", "deposit", "Waiting", "A coach", "555", "Ada", "Ahead"):
        assert hidden not in read
    assert "You" in seen


def test_a_day_without_hours_says_so(signed_in, laid, ada):
    ada.week.minutes = [0] * 7
    ada.week.save()
    assert "Off today" in page(signed_in)


def test_nobody_signed_out_sees_it(client, shop):
    assert client.get("/").url == "/sign-in/?next=/"


def test_ten_more_orders_ask_no_more_queries(
    signed_in, aunt, ada, shop, django_assert_num_queries, django_assert_max_num_queries
):
    def open_orders(count):
        for number in range(count):
            made = Order.objects.open(
                title=f"Quilt {number}", customer=aunt, by=ada, needed_by=shop.today() + timedelta(days=40)
            )
            made.stages.create(kind="log", position=0, minutes=10)

    open_orders(4)
    page(signed_in)
    with django_assert_max_num_queries(60) as few:
        page(signed_in)
    open_orders(10)
    with django_assert_num_queries(len(few)):
        page(signed_in)


def test_a_forgotten_clock_is_asked_about_until_it_is_told(client, shop, order, ada):
    client.force_login(ada)
    stage = Stage.objects.create(order=order, kind="bind", position=0, minutes=90)
    stage.finish(by=ada)
    assert "How long did it take?" in client.get("/").content.decode()
    address, name = f"/stages/{stage.pk}/minutes/", f"took-{stage.pk}-minutes"
    for said, words in (
        ("", "Give minutes, such as 90"),
        ("a while", "whole minutes"),
        ("0", "one minute or more"),
    ):
        bad = client.post(address, {name: said})
        assert bad.status_code == 422
        assert words in bad.content.decode()
        assert f'value="{said}"' in bad.content.decode() or not said
    assert client.get(address).status_code == 405
    for _ in range(2):
        assert client.post(address, {name: "140"}).url == "/"
    stage.refresh_from_db()
    assert (stage.spent, stage.clock) == (140, "told")
    assert "How long did it take?" not in client.get("/").content.decode()


def test_minutes_nobody_knows_are_asked_for_no_more(client, shop, order, ada, bo):
    stage = Stage.objects.create(order=order, kind="bind", position=0, minutes=90)
    stage.finish(by=ada)
    client.force_login(bo)
    assert client.post(f"/stages/{stage.pk}/minutes/", {"unknown": "yes"}).status_code == 422
    client.force_login(ada)
    client.post(f"/stages/{stage.pk}/minutes/", {"unknown": "yes"})
    stage.refresh_from_db()
    assert (stage.spent, stage.clock) == (90, "not known")
