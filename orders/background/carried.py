"""Errands that a carrier brings to processes of their own: who works, who is woken, who stands in.

The carrier is whatever the settings name; it may lose each word it was given, and nothing is lost by that.
"""

from __future__ import annotations

import logging
import socket
import threading
from datetime import timedelta

from django.conf import settings
from django.db import close_old_connections, connections
from django.utils import timezone
from django.utils.module_loading import import_string

from orders.background import errands, runner
from orders.models.pulse import CARRIER, TICK, WORKER, Pulse

log = logging.getLogger(__name__)
EVERY = 3.0  # seconds between two ticks
LATE = timedelta(seconds=10)  # when no worker has a pulse for so long, the tick does the errands


def name_here(kind: str) -> str:
    """Return what the program of this kind is called on this machine."""
    return f"{kind}@{socket.gethostname()}"


def work_off(closing: threading.Event) -> None:
    """Do what is due, one errand after the other, until nothing is or the worker is closing."""
    close_old_connections()
    try:
        beat()
        while not closing.is_set() and runner.take_one(closing, beat):
            beat()
    except Exception:
        log.exception("the worker met a fault and waits to be woken again")
        connections.close_all()


def beat() -> None:
    """Say that the worker of this machine is at work."""
    Pulse.beat(name_here(WORKER))


def no_worker_is_well() -> bool:
    """Say whether somebody else has to do the errands."""
    return not Pulse.objects.of(WORKER).within(LATE).exists()


def bring_word() -> bool:
    """Wake a worker through the carrier; say whether it took the word."""
    try:
        import_string(settings.CARRIER)()
    except Exception as fault:  # whatever its library has for a server that is gone
        log.warning("no word could be brought to the workers: %s", fault)
        return False
    return True


class Messenger(runner.Runner):
    """Brings word of the errands that this process sends, so that no request waits for the carrier."""

    def _take_one(self) -> bool:
        errands.wake.wait()
        errands.wake.clear()
        return self.closing.is_set() or bring_word()

    def _rest(self) -> None:
        """The tick brings the word that could not be brought."""


class StandIn(runner.Runner):
    """Does the errands itself while no worker does."""

    def _take_one(self) -> bool:
        return no_worker_is_well() and super()._take_one()

    def _rest(self) -> None:
        connections.close_all()
        self.closing.wait(1.0)


def tick() -> None:
    """Do what no request does: pick up what was left behind, send the day's errands, wake a worker."""
    try:
        now = timezone.now()
        errands.pick_up_left_behind(now)
        errands.send_daily(now.date())
        Pulse.objects.forget_old()
        Pulse.beat(name_here(TICK))
        if bring_word():
            Pulse.beat(name_here(CARRIER))
    except Exception:
        log.exception("the tick met a fault and goes on")
        connections.close_all()


def tick_until(closing: threading.Event) -> None:
    """Tick every few seconds, with somebody beside who stands in for the workers."""
    stand_in = StandIn()
    stand_in.start()
    while not closing.is_set():
        tick()
        closing.wait(EVERY)
    stand_in.close()
