"""The same payment sent sixteen times at once is one; a payment that was confirmed survives the writer."""

from __future__ import annotations

import os
import random
import signal
import threading
import time

import pytest
from django.db import connection, connections
from django.test import Client

from orders.account import money
from orders.account.sealing import verify_ledger
from orders.models import Entry, Paper, Posting

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.slow]
RACES = int(os.environ.get("SOAK_RACES", "40"))
KILLS = int(os.environ.get("SOAK_KILLS", "40"))
THREADS = 16
TRIES = 5  # of one form, when the shop says that it is busy and to send it again


def at_once(race):
    """Run `race(number)` in sixteen threads at the same moment, race after race; return what each came to."""
    start, outcomes = threading.Barrier(THREADS), [[] for _ in range(RACES)]

    def run():
        try:
            for number in range(RACES):
                start.wait()
                outcomes[number].append(race(number))
        except BaseException as fault:
            outcomes[0].append(fault)
            start.abort()
        finally:
            connection.close()

    threads = [threading.Thread(target=run) for _ in range(THREADS)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return outcomes


def test_a_form_sent_by_sixteen_at_once_is_one_payment_with_one_answer(agreed, ada):
    address = f"/quilts/{agreed.number}/account/payments/"
    signed_in = Client()
    signed_in.force_login(ada)
    cookies = signed_in.cookies

    def send(number):
        client = Client(raise_request_exception=False)
        client.cookies = cookies
        said = {"amount": "0.05", "payer": agreed.customer_id, "method": "card", "key": f"race {number}"}
        for _ in range(TRIES):
            answer = client.post(address, {f"pay-{name}": value for name, value in said.items()})
            if answer.status_code != 503:
                break
        return answer.status_code, answer.headers.get("Location")

    outcomes = at_once(send)
    assert [set(each) for each in outcomes] == [{(302, f"/quilts/{agreed.number}/account/")}] * RACES
    assert [len(each) for each in outcomes] == [THREADS] * RACES
    assert Entry.objects.of_payments().count() == RACES
    assert Paper.objects.filter(kind="deposit").count() == RACES
    assert money.owing_of(agreed).paid == 5 * RACES
    assert verify_ledger() == ()


def test_a_payment_that_was_confirmed_is_there_after_the_writer_was_killed(agreed):
    chance, confirmed = random.Random("kills"), []
    for kill in range(KILLS):
        confirmed += _written_until_killed(agreed, kill, after=chance.uniform(0.001, 0.04))
    kept = set(Entry.objects.of_payments().values_list("key", flat=True))
    assert len(confirmed) >= KILLS
    assert set(confirmed) <= kept
    assert len(kept) - len(confirmed) <= KILLS  # at most the one it was at
    paid = Posting.objects.filter(entry__kind="payment")
    assert paid.count() == len(kept) == money.owing_of(agreed).paid
    assert verify_ledger() == ()
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA integrity_check")
            assert cursor.fetchone() == ("ok",)


def _written_until_killed(order, kill, *, after):
    """Let a child take payments of a cent, kill it a moment after its first, and return what it confirmed."""
    connections.close_all()
    listen, speak = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            _take_payments(order, kill, speak)
        finally:
            os._exit(1)
    os.close(speak)
    with os.fdopen(listen, "rb") as told:
        first = told.read(1)
        time.sleep(after)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        said = first + told.read()
    return said.decode().split("\n")[:-1]


def _take_payments(order, kill, speak):
    for number in range(10_000):
        key = f"kill {kill} payment {number}"
        money.take_payment(order, minor=1, payer=order.customer, method="cash", key=key, by=None)
        os.write(speak, f"{key}\n".encode())
