"""The thread that takes errands, each into a child process with limits."""

from __future__ import annotations

import logging
import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from datetime import timedelta
from enum import Enum

from django.conf import settings
from django.db import Error, connections
from django.utils import timezone

from orders.background import errands
from orders.models.errand import Errand, LeaseLost

log = logging.getLogger(__name__)
LONGEST_SLEEP = 5.0  # seconds; a sweep for what was missed comes at least this often
LOOK_EVERY = 1.0  # seconds between two looks whether somebody asked to stop
AWAY = 60.0  # seconds for which records that are away are waited for, to write down how an errand ended


class Runner:
    """Takes one errand at a time; closing ends its child as well."""

    def __init__(self) -> None:
        self.closing = threading.Event()
        self.thread = threading.Thread(target=self._run, name="errands", daemon=True)

    def start(self) -> None:
        self.thread.start()

    def close(self) -> None:
        self.closing.set()
        errands.wake.set()
        self.thread.join(timeout=10)

    def is_alive(self) -> bool:
        return self.thread.is_alive()

    def _run(self) -> None:
        while not self.closing.is_set():
            try:
                if not self._take_one():
                    self._rest()
            except Exception:
                log.exception("the errand thread met a fault and goes on")
                connections.close_all()
                self.closing.wait(LONGEST_SLEEP)
        connections.close_all()

    def _take_one(self) -> bool:
        return take_one(self.closing)

    def _rest(self) -> None:
        sleep_until_wanted()


def nothing() -> None:
    pass


def take_one(closing: threading.Event, at_work: Callable[[], None] = nothing) -> bool:
    """Do the errand that has waited longest in a child process; say whether there was one.

    While it runs, `at_work` is called about once a second.
    """
    now = timezone.now()
    errands.pick_up_left_behind(now)
    errands.send_daily(now.date())
    taken = errands.claim_next(now)
    if taken:
        run_in_child(taken, closing, at_work)
    return taken is not None


def sleep_until_wanted() -> None:
    due_at = Errand.objects.next_due_at()
    connections.close_all()
    rest = (due_at - timezone.now()) / timedelta(seconds=1) if due_at else LONGEST_SLEEP
    errands.wake.wait(timeout=min(max(rest, 0.05), LONGEST_SLEEP))
    errands.wake.clear()


class Ending(Enum):
    """How a child came to its end."""

    BY_ITSELF = "by itself"
    TOO_LONG = "too long"
    STOPPED = "stopped"
    CLOSING = "closing"


def run_in_child(taken: Errand, closing: threading.Event, at_work: Callable[[], None] = nothing) -> None:
    """Do a claimed errand in one child process, which is gone when this returns."""
    child = subprocess.Popen(
        [sys.executable, "manage.py", "run_errand", str(taken.pk)],
        cwd=settings.BASE_DIR,
        stdin=subprocess.DEVNULL,
        start_new_session=True,  # Ctrl-C is for the site, which ends the child in its own way
    )
    ending = Ending.CLOSING
    try:
        ending = _wait(child, taken, closing, at_work)
    finally:
        _end(child)
        _settle(taken, ending)


def _wait(
    child: subprocess.Popen[bytes], taken: Errand, closing: threading.Event, at_work: Callable[[], None]
) -> Ending:
    handler = errands.handlers().get(taken.kind)
    until = time.monotonic() + (handler.seconds if handler else errands.SPARE_SECONDS)
    next_look = time.monotonic() + LOOK_EVERY
    while not closing.is_set():
        with suppress(subprocess.TimeoutExpired):
            child.wait(timeout=0.1)
            return Ending.BY_ITSELF
        if time.monotonic() > until:
            return Ending.TOO_LONG
        if time.monotonic() > next_look:
            next_look = time.monotonic() + LOOK_EVERY
            if _is_to_stop(taken, at_work):
                return Ending.STOPPED
    return Ending.CLOSING


def _is_to_stop(taken: Errand, at_work: Callable[[], None]) -> bool:
    """Say whether somebody asked to stop it; records that are away for a moment have nobody asking."""
    try:
        at_work()
        return Errand.objects.filter(pk=taken.pk, stop_asked=True).exists()
    except Error:
        log.warning("the records are away while errand %s runs", taken.pk)
        connections.close_all()
        return False


def _end(child: subprocess.Popen[bytes]) -> None:
    """End the child and whatever it started."""
    with suppress(ProcessLookupError):
        os.killpg(child.pid, signal.SIGKILL)
    child.wait()


def _settle(taken: Errand, ending: Ending) -> None:
    """Keep how it ended, as soon as the records are there to keep it."""
    until = time.monotonic() + AWAY
    while True:
        try:
            return _keep(taken, ending)
        except Error:
            if time.monotonic() > until:
                raise
            connections.close_all()
            time.sleep(LOOK_EVERY)


def _keep(taken: Errand, ending: Ending) -> None:
    """Keep how it ended, unless the child has said so itself, which is the rule."""
    with suppress(LeaseLost):
        if ending is Ending.STOPPED:
            taken.end_early("Stopped, because it was asked for.")
        elif ending is Ending.CLOSING:
            taken.put_back()
        elif ending is Ending.TOO_LONG:
            taken.try_later("It took longer than it may.", now=timezone.now())
        else:
            taken.try_later("It ended before it was done.", now=timezone.now())


_runner: Runner | None = None


def start(chosen: Runner) -> None:
    """Start the errand thread of this process."""
    global _runner
    _runner = chosen
    _runner.start()


def close() -> None:
    """End the errand thread and its child; what was under way waits for the next start."""
    if _runner is not None:
        _runner.close()


def has_stopped() -> bool:
    """Say whether the errand thread of this process was started and is no longer there."""
    return _runner is not None and not _runner.is_alive()
