"""Worker, Redis and PostgreSQL fail again and again under load: nothing lost, nothing twice, on in 30 s."""

from __future__ import annotations

import os
import random
import signal
import time

import pytest

from tests.services.whole_site import children, kill, site, wait_until

pytestmark = pytest.mark.slow
OF_EACH = int(os.environ.get("SOAK_FAULTS", "20"))
WITHIN = 30  # seconds from the return of a service to the next errand that is done
OURS = "FROM orders_errand WHERE kind = 'press a piece'"
OPEN = f"SELECT count(*) {OURS} AND state <> 'done'"
MAKE_DUE = "UPDATE orders_errand SET due_at = now() WHERE state = 'waiting'"
PRESSED = "FROM orders_event WHERE what = 'pressed'"
TWICE = f"SELECT facts ->> 'errand' {PRESSED} GROUP BY 1 HAVING count(*) > 1"
WITHOUT = f"SELECT id {OURS} AND id NOT IN (SELECT (facts ->> 'errand')::bigint {PRESSED})"


@pytest.fixture(scope="module")
def here(tmp_path_factory):
    with site(tmp_path_factory.mktemp("faults")) as made:
        yield made


def kill_the_worker(here, work, chance):
    """End a worker at work as the system does when memory runs out: with what it does, or only it."""
    wait_until(lambda: pulse_of(here, time.time() - 5), seconds=120, otherwise=here.last_said)
    for worker in children(work.pid):
        errand = children(worker)
        kill(worker)
        for child in errand if chance.random() < 0.5 else []:
            kill(child)


def restart_redis(here, work, chance):
    here.redis.stop(chance.choice([signal.SIGTERM, signal.SIGKILL]))
    time.sleep(chance.uniform(0, 1))
    here.redis.start()


def restart_postgres(here, work, chance):
    here.postgres.stop(chance.choice([signal.SIGINT, signal.SIGQUIT]))  # kindly, or as in a crash
    time.sleep(chance.uniform(0, 1))
    here.postgres.start()


def empty_redis(here, work, chance):
    here.redis.empty()


FAULTS = (kill_the_worker, restart_redis, restart_postgres, empty_redis)


def test_whatever_fails_no_errand_is_lost_none_is_done_twice_and_work_goes_on(here):
    chance = random.Random("faults")
    faults = [fault for fault in FAULTS for _ in range(OF_EACH)]
    chance.shuffle(faults)
    with (
        here.process("tick", "manage.py", "tick"),
        here.process("work", "manage.py", "work") as work,
        here.process("sender", "-m", "tests.services.sender", "a fault"),
    ):
        wait_until(lambda: pressed_after(here, 0), seconds=240, otherwise=here.last_said)
        rests = [rest_after(here, work, fault, chance) for fault in faults]
    with here.process("tick", "manage.py", "tick"), here.process("work", "manage.py", "work"):
        here.ask(MAKE_DUE)  # what failed thrice would rest for two minutes
        wait_until(lambda: not here.ask(OPEN)[0][0], seconds=120, otherwise=here.last_said)

    numbers = [line for line in here.said("sender").splitlines() if line.isdigit()]
    confirmed = {f"press a piece: {number} of a fault" for number in numbers}
    kept = {key for (key,) in here.ask(f"SELECT key {OURS} AND state = 'done'")}
    assert len(confirmed) >= len(faults)
    assert confirmed <= kept  # none that was confirmed is lost
    assert here.ask(TWICE) == here.ask(WITHOUT) == []
    assert max(rests) < WITHIN
    print(f"{len(faults)} faults, {len(kept)} errands, longest rest {max(rests):.1f} s")


def rest_after(here, work, fault, chance):
    """Let something fail in the middle of the work; return after how long one begun later is done."""
    time.sleep(chance.uniform(0, 1.5))
    fault(here, work, chance)
    back = time.time()
    wait_until(lambda: pressed_after(here, back), seconds=WITHIN, otherwise=here.last_said)
    return time.time() - back


def pressed_after(here, moment):
    return here.ask(f"SELECT 1 {PRESSED} AND (facts ->> 'began')::bigint > {int(moment * 1000)}")


def test_a_worker_that_is_stuck_is_started_anew_and_the_tick_stands_in_meanwhile(here):
    with (
        here.process("tick", "manage.py", "tick"),
        here.process("work", "manage.py", "work") as work,
        here.process("sender", "-m", "tests.services.sender", "a halt"),
    ):
        began = time.time()
        wait_until(lambda: pulse_of(here, began), seconds=120, otherwise=here.last_said)
        (stuck,) = children(work.pid)
        kill(stuck, signal.SIGSTOP)
        moment = time.time()
        wait_until(lambda: pressed_after(here, moment + 5), seconds=WITHIN, otherwise=here.last_said)
        wait_until(lambda: stuck not in children(work.pid), seconds=120, otherwise=here.last_said)
    assert "had no pulse for 30 seconds" in here.said("work")


def pulse_of(here, moment):
    return here.ask(f"SELECT 1 FROM orders_pulse WHERE name LIKE 'worker@%' AND at > to_timestamp({moment})")
