"""Each errand in one child process: within its limits, ended with it, and its effect kept once."""

import os
import threading
import time
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command
from django.db import connection
from django.utils import timezone

from orders.background import errands, runner
from orders.models import Errand, Event

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.slow]


@pytest.fixture(autouse=True)
def _children_see_these_records(monkeypatch, settings):
    monkeypatch.setenv("DJANGO_SETTINGS_MODULE", "tests.orders.errand_settings")
    monkeypatch.setenv("TEST_RECORDS", str(connection.settings_dict["NAME"]))
    monkeypatch.setenv("DATABASE_URL", os.environ.get("TEST_DATABASE_URL", ""))
    monkeypatch.setattr(errands, "send_daily", lambda day: None)
    before = dict(errands.handlers())
    settings.ERRANDS_IN = [*settings.ERRANDS_IN, "tests.orders.errand_kinds"]
    yield
    errands.handlers().clear()
    errands.handlers().update(before)


@pytest.fixture
def note(tmp_path):
    return tmp_path / "note"


def take_one():
    return runner.take_one(threading.Event())


def in_a_thread(closing):
    thread = threading.Thread(target=lambda: (runner.take_one(closing), connection.close()))
    thread.start()
    return thread


def child_of(note: Path) -> int:
    until = time.monotonic() + 20
    while not (note.exists() and note.read_text()):
        assert time.monotonic() < until, "the child never began"
        time.sleep(0.05)
    return int(note.read_text())


def is_alive(process: int) -> bool:
    return Path(f"/proc/{process}").exists()


def make_due():
    Errand.objects.update(due_at=timezone.now())


def test_the_child_does_it():
    errands.send("press", key="1")
    assert take_one()
    done = Errand.objects.get()
    assert (done.state, done.outcome) == ("done", "Pressed.")
    assert Event.objects.filter(what="pressed").count() == 1
    assert not take_one()


def test_a_child_that_is_killed_in_the_middle_is_followed_by_another_and_the_effect_is_there_once():
    errands.send("press, killed in the middle once", key="1")
    take_one()
    cut_off = Errand.objects.get()
    assert (cut_off.state, cut_off.outcome) == ("waiting", "It ended before it was done.")
    assert not Event.objects.filter(what="pressed").exists()
    make_due()
    take_one()
    done = Errand.objects.get()
    assert (done.state, done.attempts) == ("done", 2)
    assert Event.objects.filter(what="pressed").count() == 1


def test_a_child_that_takes_too_long_is_ended():
    errands.send("nap too long", key="1")
    began = time.monotonic()
    take_one()
    assert time.monotonic() - began < 20
    ended = Errand.objects.get()
    assert ended.state == "waiting"
    assert ended.outcome in ("It took longer than it may.", "It ended before it was done.")


def test_a_child_gets_no_more_memory_than_its_share():
    errands.send("take all the room", key="1")
    take_one()
    assert Errand.objects.get().outcome == "It needed more memory than it may have."


def test_whoever_asks_it_to_stop_ends_the_child(note):
    sent = errands.send("nap", key="1", payload={"note": str(note)})
    thread = in_a_thread(threading.Event())
    child = child_of(note)
    sent.ask_to_stop()
    thread.join(timeout=20)
    assert not is_alive(child)
    stopped = Errand.objects.get()
    assert (stopped.state, stopped.stop_asked) == ("stopped", False)
    assert stopped.outcome == "Stopped, because it was asked for."


def test_closing_the_site_ends_the_child_and_leaves_the_errand_as_if_never_tried(note):
    errands.send("nap", key="1", payload={"note": str(note)})
    thread_of_the_site = runner.Runner()
    thread_of_the_site.start()
    child = child_of(note)
    thread_of_the_site.close()
    assert not thread_of_the_site.is_alive()
    assert not is_alive(child)
    left = Errand.objects.get()
    assert (left.state, left.attempts, left.lease_until) == ("waiting", 0, None)


def test_the_thread_wakes_for_what_is_sent_while_it_sleeps():
    thread_of_the_site = runner.Runner()
    thread_of_the_site.start()
    try:
        time.sleep(0.3)
        errands.send("press", key="1")
        until = time.monotonic() + 20
        while Errand.objects.get().state != "done":
            assert time.monotonic() < until
            time.sleep(0.05)
    finally:
        thread_of_the_site.close()


def test_a_fault_of_the_thread_itself_does_not_end_it(monkeypatch):
    monkeypatch.setattr(runner, "LONGEST_SLEEP", 0.05)
    met = []

    def break_down(closing):
        met.append(1)
        raise OSError

    monkeypatch.setattr(runner, "take_one", break_down)
    thread_of_the_site = runner.Runner()
    thread_of_the_site.start()
    time.sleep(0.5)
    assert thread_of_the_site.is_alive()
    assert len(met) > 1
    thread_of_the_site.close()


def test_an_errand_that_nobody_claimed_is_not_done_by_hand():
    sent = errands.send("press", key="1")
    with pytest.raises(CommandError, match="is not under way"):
        call_command("run_errand", str(sent.pk))
    assert Errand.objects.get().state == "waiting"
