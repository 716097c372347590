"""Errands carried to workers: whoever sends never waits, whoever is missing is stood in for."""

import re
import sys
import threading
import time
from datetime import timedelta

import pytest
from django.core.management import CommandError, call_command
from django.db import transaction
from django.utils import timezone

from orders.background import carried, errands, runner, watch
from orders.background.watch import Watch
from orders.models import Errand
from orders.models.pulse import CARRIER, WORKER, Pulse
from tests.conftest import ROOT

pytestmark = pytest.mark.django_db


@pytest.fixture
def brought(monkeypatch):
    words = []
    monkeypatch.setattr("config.celery.bring_word", lambda: words.append("wake up"), raising=True)
    return words


def aged(name, seconds):
    Pulse.objects.update_or_create(name=name, defaults={"at": timezone.now() - timedelta(seconds=seconds)})


def test_a_carrier_that_is_gone_is_said_in_the_log_and_hurts_nobody(monkeypatch, caplog):
    def gone():
        raise ConnectionError("connection refused")

    monkeypatch.setattr("config.celery.bring_word", gone)
    assert carried.bring_word() is False
    assert "no word could be brought" in caplog.text


def test_who_sends_an_errand_does_not_wait_for_a_carrier_that_hangs(monkeypatch):
    hangs = threading.Event()
    monkeypatch.setattr("config.celery.bring_word", hangs.wait)
    errands.wake.clear()
    messenger = carried.Messenger()
    messenger.start()
    began = time.monotonic()
    for number in range(20):
        with transaction.atomic():
            errands.send("press", key=str(number))
        errands.wake.set()  # as at the commit, which a test does not reach
    assert time.monotonic() - began < 5
    hangs.set()
    messenger.close()
    assert not messenger.is_alive()


def test_the_messenger_brings_word_of_what_was_sent(brought):
    messenger = carried.Messenger()
    messenger.start()
    errands.wake.set()
    until = time.monotonic() + 5
    while not brought:
        assert time.monotonic() < until
        time.sleep(0.01)
    messenger.close()


def test_a_pulse_is_told_by_its_age():
    assert carried.no_worker_is_well()
    carried.beat()
    assert not carried.no_worker_is_well()
    aged(carried.name_here(WORKER), 11)
    assert carried.no_worker_is_well()


def test_the_tick_stands_in_only_while_no_worker_is_well(monkeypatch):
    taken = []
    monkeypatch.setattr(runner, "take_one", lambda closing: taken.append(1) or True)
    stand_in = carried.StandIn()
    carried.beat()
    assert stand_in._take_one() is False
    aged(carried.name_here(WORKER), 11)
    assert stand_in._take_one() is True
    assert taken == [1]


def test_a_tick_sends_what_is_daily_picks_up_what_was_left_and_wakes_a_worker(brought):
    sent = errands.send("press", key="1")
    sent.claim(now=timezone.now() - timedelta(hours=1), seconds=1)
    aged("worker@long-gone", 2 * 24 * 3600)
    carried.tick()
    left = Errand.objects.get(pk=sent.pk)
    assert (left.state, left.outcome) == ("waiting", "It was cut off.")
    assert Errand.objects.filter(kind="daily backup").exists()
    assert brought == ["wake up"]
    assert {pulse.name.split("@")[0] for pulse in Pulse.objects.all()} == {"tick", "carrier"}


def test_a_tick_without_a_carrier_leaves_no_sign_that_words_arrive(monkeypatch):
    monkeypatch.setattr(carried, "bring_word", lambda: False)
    carried.tick()
    assert not Pulse.objects.of(CARRIER).exists()


@pytest.mark.django_db(transaction=True)
def test_a_woken_worker_does_all_that_is_due_and_says_so(monkeypatch):
    left = [True, True, False]
    monkeypatch.setattr(runner, "take_one", lambda closing, at_work: left.pop(0))
    carried.work_off(threading.Event())
    assert left == []
    assert not carried.no_worker_is_well()


@pytest.fixture
def watched(monkeypatch):
    made = Watch([sys.executable, "-c", "import time; time.sleep(60)"])
    yield made
    made.close()


def test_a_worker_that_ended_is_started_anew(watched):
    watched.look()
    first = watched.worker
    first.kill()
    first.wait()
    watched.look()
    assert watched.worker is not first
    assert watched.worker.poll() is None


def test_a_worker_without_a_pulse_is_started_anew_when_words_were_brought(watched, monkeypatch):
    monkeypatch.setattr(watch, "TO_START", 0.2)
    watched.look()
    first = watched.worker
    time.sleep(0.3)
    watched.look()
    assert watched.worker is first  # no word was brought, so nothing is to be expected
    Pulse.beat(carried.name_here(CARRIER))
    time.sleep(0.3)
    watched.look()
    assert watched.worker is not first
    assert first.poll() is not None


def test_a_worker_at_work_is_left_alone(watched, monkeypatch):
    monkeypatch.setattr(watch, "TO_START", 0.3)
    monkeypatch.setattr(watch, "STUCK", 0.3)
    Pulse.beat(carried.name_here(CARRIER))
    watched.look()
    first = watched.worker
    for seconds in (5, 4, 3, 2):
        aged(carried.name_here(WORKER), seconds)
        watched.look()
        time.sleep(0.2)
    assert watched.worker is first


def test_whoever_watches_over_the_machine_hears_of_a_pulse(capsys):
    with pytest.raises(CommandError, match="not at work in the last 30 seconds"):
        call_command("pulse", "worker")
    carried.beat()
    call_command("pulse", "worker")
    assert "is at work" in capsys.readouterr().out


@pytest.mark.parametrize("command", ["work", "tick"])
def test_without_redis_there_is_nobody_beside_the_site(command):
    with pytest.raises(CommandError, match="REDIS_URL is not set"):
        call_command(command)


def test_the_carrier_is_short_and_nothing_else_knows_it():
    carrier = ROOT / "config" / "celery.py"
    code = [line for line in carrier.read_text().splitlines() if line.strip()]
    assert len(code) <= 42
    who = {
        str(path.relative_to(ROOT))
        for folder in ("config", "orders", "planner")
        for path in (ROOT / folder).rglob("*.py")
        if re.search(r"celery", path.read_text(), re.IGNORECASE)
    }
    assert who == {"config/celery.py", "config/settings.py", "orders/management/commands/work.py"}
    said = carrier.read_text()
    assert "task_acks_late=True" in said
    assert "task_ignore_result=True" in said
    assert not re.search(r"\beta\b|countdown", said)
