"""A stage begun, laid down, done, taken back and pinned by its address."""

from datetime import timedelta

import pytest

from orders.models import Block, Cut, Event, Order, Stage
from tests.orders.workbench import draw, let_help, say_yes_to_cut

pytestmark = pytest.mark.django_db


@pytest.fixture
def laid(order, twelve_shirts, shop, shelf, ada):
    return draw(order, shop, ada)


@pytest.fixture
def signed_in(client, ada):
    client.force_login(ada)
    return client


def post(client, order, kind, act, **data):
    return client.post(f"/stages/{order.stages.get(kind=kind).pk}/{act}/", data)


def said(client):
    return " ".join(client.get("/").content.decode().split())


def test_start_pause_and_done_go_back_to_where_they_were_asked(signed_in, laid):
    assert post(signed_in, laid, "log", "start", back="today").url == "/"
    assert Stage.objects.running().get().kind == "log"
    assert post(signed_in, laid, "log", "pause").url == f"/quilts/{laid.number}/bench/"
    assert not Stage.objects.running().exists()
    assert post(signed_in, laid, "log", "finish", back="elsewhere").url == f"/quilts/{laid.number}/bench/"
    assert laid.stages.get(kind="log").done_at


def test_done_offers_undo_in_the_bar_and_undo_takes_it_back(signed_in, laid):
    post(signed_in, laid, "log", "finish", back="today")
    deed = Event.objects.get(what="bench")
    address = f"/quilts/{laid.number}/bench/taken-back/{deed.pk}/"
    assert f'action="{address}"' in said(signed_in)
    assert signed_in.post(address).status_code == 302
    assert signed_in.post(address).status_code == 302
    assert laid.stages.get(kind="log").done_at is None
    assert Event.objects.filter(what="taken back").count() == 1


def test_done_sent_twice_is_done_once(signed_in, laid):
    for _ in range(2):
        assert post(signed_in, laid, "log", "finish", back="today").status_code == 302
    assert Event.objects.filter(what="done").count() == 1


@pytest.mark.parametrize("act", ["start", "finish"])
@pytest.mark.parametrize("back", ["today", ""])
def test_no_cut_without_a_yes_by_its_address(signed_in, laid, act, back):
    answer = post(signed_in, laid, "cut", act, back=back)
    assert answer.status_code == 422
    assert "has no yes to cut. Ask An aunt of Ferncliff" in answer.content.decode()
    assert not Cut.objects.exists()
    assert not Stage.objects.running().exists()


def test_no_join_without_a_yes_to_the_picture(signed_in, laid):
    Block.objects.update(progress="trimmed")
    answer = post(signed_in, laid, "join", "finish")
    assert answer.status_code == 422
    assert "no yes to the picture" in answer.content.decode()


def test_done_on_cutting_cuts_every_piece(signed_in, laid, ada):
    say_yes_to_cut(laid, ada)
    post(signed_in, laid, "cut", "finish", back="today")
    assert Cut.objects.count() == 12


def test_a_helper_does_what_the_workroom_lists_and_no_more(client, laid, bo):
    let_help(bo, "log")
    client.force_login(bo)
    assert post(client, laid, "log", "start", back="today").status_code == 302
    refused = post(client, laid, "fuse", "start", back="today")
    assert refused.status_code == 422
    assert "Bo does not do this stage" in refused.content.decode()
    assert post(client, laid, "log", "pin").status_code == 403


def test_a_stage_of_what_has_left_the_shop_is_not_here(signed_in, laid):
    from django.utils import timezone

    Order.objects.update(handed_over_at=timezone.now(), handed_to="the aunt")
    assert post(signed_in, laid, "log", "start").status_code == 404


def test_an_undo_of_another_quilt_is_not_here(signed_in, laid, ada, aunt):
    post(signed_in, laid, "log", "finish")
    other = Order.objects.open(title="Other", customer=aunt, by=ada)
    deed = Event.objects.get(what="bench")
    assert signed_in.post(f"/quilts/{other.number}/bench/taken-back/{deed.pk}/").status_code == 404


def test_an_undo_too_late_is_refused_in_words(signed_in, laid, ada):
    post(signed_in, laid, "log", "finish")
    post(signed_in, laid, "design", "start")
    deed = Event.objects.get(what="bench")
    answer = signed_in.post(f"/quilts/{laid.number}/bench/taken-back/{deed.pk}/")
    assert answer.status_code == 422
    assert "The next stage has begun" in answer.content.decode()


def test_two_people_who_finish_one_stage_at_once_finish_it_once(signed_in, laid, ada, bo, client):
    let_help(bo, "log")
    post(signed_in, laid, "log", "start")
    first = Stage.objects.get(kind="log")
    assert post(client, laid, "log", "finish", back="today").status_code == 302
    client.force_login(bo)
    assert post(client, laid, "log", "finish", back="today").status_code == 302
    assert Event.objects.filter(what="done").count() == 1
    after = Stage.objects.get(pk=first.pk)
    assert (after.person, after.started_at) == (ada, None)


def test_a_stage_is_pinned_and_its_pin_taken_out(signed_in, laid, shop):
    day = shop.today() + timedelta(days=7 - shop.today().weekday())  # a Monday
    assert post(signed_in, laid, "quilt", "pin", day=day.isoformat()).status_code == 302
    assert laid.stages.get(kind="quilt").pinned_for == day
    post(signed_in, laid, "quilt", "pin", day="")
    assert laid.stages.get(kind="quilt").pinned_for is None


@pytest.mark.parametrize(("day", "fault"), [("soon", "Give a day"), ("2020-01-01", "That day is past")])
def test_a_bad_day_is_refused_in_words(signed_in, laid, day, fault):
    answer = post(signed_in, laid, "quilt", "pin", day=day)
    assert answer.status_code == 422
    assert fault in answer.content.decode()


def test_get_changes_nothing(signed_in, laid):
    for act in ("start", "pause", "finish", "pin"):
        assert signed_in.get(f"/stages/{laid.stages.first().pk}/{act}/").status_code == 405
