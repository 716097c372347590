"""Errands: sent with their cause, done once however often they are tried, ended in words."""

from datetime import UTC, date, datetime, timedelta

import pytest
from django.db import IntegrityError, transaction
from django.utils import timezone

from orders.background import errands
from orders.models import Errand, Event
from orders.models.errand import MOST_ATTEMPTS, RESTS, LeaseLost

pytestmark = pytest.mark.django_db
NOW = datetime(2027, 3, 15, 14, tzinfo=UTC)


@pytest.fixture
def kind(monkeypatch):
    """Return a way to say how errands of the kind “iron a stack” are done."""

    def done_by(work):
        handler = errands.Handler(work, seconds=5, megabytes=200)
        monkeypatch.setitem(errands.handlers(), "iron a stack", handler)

    return done_by


def send(key="7", **more):
    return errands.send("iron a stack", key=key, due_at=NOW, **more)


def test_an_errand_is_done_and_says_how_it_went(kind):
    kind(lambda errand: f"Ironed {errand.payload['shirts']} shirts.")
    send(payload={"shirts": 12}, cause="bag 3")
    (done,) = errands.run_due(NOW)
    assert (done.state, done.outcome, done.attempts) == ("done", "Ironed 12 shirts.", 1)
    assert errands.run_due(NOW) == []


def test_what_somebody_waits_for_is_taken_before_what_has_waited_longer(kind, monkeypatch):
    kind(lambda errand: "Done.")
    soon = errands.Handler(lambda errand: "Done.", seconds=5, megabytes=200, waited_for=True)
    monkeypatch.setitem(errands.handlers(), "press a sleeve", soon)
    for number in range(12):
        errands.send("iron a stack", key=str(number), due_at=NOW - timedelta(days=2))
    errands.send("press a sleeve", key="1", due_at=NOW)
    done = errands.run_due(NOW)
    assert [each.kind for each in done] == ["press a sleeve"] + ["iron a stack"] * 12


def test_searches_before_a_page_are_waited_for_and_what_is_daily_is_not():
    waited = {kind for kind, handler in errands.handlers().items() if handler.waited_for}
    assert waited >= {
        "if", "ways to take an order", "ways to take an enquiry", "mixed layout", "arrange",
    }  # fmt: skip
    assert not [kind for kind in waited if errands.handlers()[kind].daily or kind.startswith("demo")]


def test_what_was_sent_before_wakes_nobody(django_capture_on_commit_callbacks):
    woken = []
    for _ in range(2):
        errands.wake.clear()
        with django_capture_on_commit_callbacks(execute=True):
            send()
        woken.append(errands.wake.is_set())
    assert woken == [True, False]


def test_with_the_days_errands_sent_the_thread_can_sleep(django_capture_on_commit_callbacks):
    errands.send_daily(NOW.date())
    errands.wake.clear()
    with django_capture_on_commit_callbacks(execute=True):
        errands.send_daily(NOW.date())
    assert Errand.objects.exists()
    assert not errands.wake.is_set()


def test_sent_twice_it_is_the_first_one_again(kind):
    kind(lambda errand: "Done.")
    assert send() == send(payload={"shirts": 99})
    assert send(key="8") != send()
    assert len(errands.run_due(NOW)) == 2


def test_it_falls_with_the_transaction_of_its_cause():
    with transaction.atomic():
        send()
        transaction.set_rollback(True)
    assert not Errand.objects.exists()


def test_it_waits_until_it_is_due(kind):
    kind(lambda errand: "Done.")
    send()
    assert errands.run_due(NOW - timedelta(seconds=1)) == []
    assert Errand.objects.next_due_at() == NOW


def test_of_two_runners_only_one_gets_it(kind):
    kind(lambda errand: "Done.")
    send()
    one, other = Errand.objects.get(), Errand.objects.get()
    assert one.claim(now=NOW, seconds=20)
    assert not other.claim(now=NOW, seconds=20)


def test_what_goes_wrong_is_tried_five_times_with_longer_rests_and_then_fails_in_words(kind):
    def scorch(errand):
        raise ValueError("too hot")

    kind(scorch)
    send()
    now, waited = NOW, []
    while errands.run_due(now):
        tried = Errand.objects.get()
        waited.append(tried.due_at)
        now = max(tried.due_at, now)
    assert tried.attempts == MOST_ATTEMPTS == len(RESTS) + 1
    assert tried.state == "failed"
    assert "the log says what, under errand" in tried.outcome
    assert "tried 5 times" in tried.outcome
    assert waited == sorted(waited)


def test_what_cannot_be_done_fails_at_once_with_its_reason(kind):
    def refuse(errand):
        raise errands.CannotBeDone("The iron is broken.")

    kind(refuse)
    send()
    (failed,) = errands.run_due(NOW)
    assert (failed.state, failed.outcome, failed.attempts) == ("failed", "The iron is broken.", 1)


def test_a_kind_that_this_version_does_not_know_fails_in_words():
    errands.send("starch a collar", key="1", due_at=NOW)
    (failed,) = errands.run_due(NOW)
    assert failed.state == "failed"
    assert "cannot do “starch a collar”" in failed.outcome


def test_one_left_behind_is_picked_up_when_its_lease_is_over_and_not_before(kind):
    kind(lambda errand: "Done.")
    send().claim(now=NOW, seconds=20)
    assert errands.run_due(NOW + timedelta(seconds=19)) == []
    errands.pick_up_left_behind(NOW + timedelta(seconds=21))
    assert Errand.objects.get().outcome == "It was cut off."
    (done,) = errands.run_due(NOW + timedelta(seconds=21) + RESTS[0])
    assert (done.state, done.attempts) == ("done", 2)


def test_an_attempt_that_was_taken_over_keeps_nothing_of_its_effect(kind):
    def slow(errand):
        Errand.objects.filter(pk=errand.pk).update(lease_until=NOW + timedelta(hours=1))
        with transaction.atomic():
            Event.objects.note("ironed", by=None)
            errand.finish("Ironed.")
        return "Ironed."

    kind(slow)
    send()
    errands.run_due(NOW)
    assert not Event.objects.filter(what="ironed").exists()
    assert Errand.objects.get().state == "running"


def test_an_effect_that_is_undone_takes_its_finish_with_it(kind):
    def finish_then_fail(errand):
        with transaction.atomic():
            errand.finish("Ironed.")
            raise ValueError

    kind(finish_then_fail)
    send()
    errands.run_due(NOW)
    assert Errand.objects.get().state == "waiting"


def test_one_that_waits_is_stopped_at_once_and_can_run_again(kind):
    kind(lambda errand: "Done.")
    waiting = send()
    waiting.ask_to_stop()
    assert (waiting.state, errands.run_due(NOW)) == ("stopped", [])
    waiting.run_again()
    (done,) = errands.run_due(timezone.now())
    assert (done.state, done.attempts) == ("done", 1)


def test_a_failed_one_gets_its_five_attempts_anew(kind):
    kind(lambda errand: "Done.")
    failed = send()
    failed.claim(now=NOW, seconds=20)
    failed.fail("No.")
    failed.run_again()
    assert (failed.state, failed.attempts, failed.ended_at) == ("waiting", 0, None)


def test_progress_is_told_only_by_the_one_who_holds_it(kind):
    held = send()
    held.claim(now=NOW, seconds=20)
    held.say("3 of 12")
    assert Errand.objects.get().progress == "3 of 12"
    Errand.objects.update(lease_until=NOW + timedelta(hours=1))
    with pytest.raises(LeaseLost):
        held.say("4 of 12")


def test_what_is_done_daily_is_sent_once_a_day():
    for day in (date(2027, 3, 15), date(2027, 3, 15), date(2027, 3, 16)):
        errands.send_daily(day)
    keys = sorted(Errand.objects.values_list("key", flat=True))
    daily = [kind for kind, handler in errands.handlers().items() if handler.daily]
    assert {"chances", "daily backup", "words of the day"} <= set(daily)
    assert keys == sorted(f"{kind}: 2027-03-{day}" for kind in daily for day in (15, 16))


@pytest.mark.parametrize(
    "change", [{"state": "running"}, {"state": "lost"}, {"lease_until": NOW}, {"key": ""}]
)
def test_the_database_itself_refuses_an_errand_that_makes_no_sense(change):
    send()
    with pytest.raises(IntegrityError), transaction.atomic():
        Errand.objects.update(**change)
