"""Keeps one worker process alive: starts it anew when it has ended, and when its pulse has stopped."""

from __future__ import annotations

import logging
import signal
import subprocess
import threading
import time
from contextlib import suppress
from datetime import datetime

from django.conf import settings
from django.db import Error, connections

from orders.background.carried import LATE, name_here
from orders.models.pulse import CARRIER, WORKER, Pulse

log = logging.getLogger(__name__)
LOOK_EVERY = 1.0  # seconds
STUCK = 30.0  # seconds without a pulse, though words were brought
TO_START = 90.0  # seconds until the first one, on a machine that is busy
TIME_TO_CLOSE = 8.0  # seconds for a worker that was asked to close


class Watch:
    """Watches over the worker that a command starts."""

    def __init__(self, command: list[str]) -> None:
        self.command = command
        self.worker: subprocess.Popen[bytes] | None = None
        self.seen: datetime | None = None
        self.seen_at = time.monotonic()
        self.patience = TO_START

    def keep_until(self, closing: threading.Event) -> None:
        """Keep the worker running until this process is closed, and close it then."""
        while not closing.is_set():
            self.look()
            closing.wait(LOOK_EVERY)
        self.close()

    def look(self) -> None:
        """Start the worker if there is none, or another if it is stuck."""
        if self.worker is not None and self.worker.poll() is not None:
            log.warning("the worker ended (%s) and is started anew", self.worker.returncode)
            self.worker = None
        if self.worker is not None and self.is_stuck():
            log.warning("the worker had no pulse for %.0f seconds and is started anew", self.patience)
            self.worker.kill()
            self.worker.wait()
            self.worker = None
        if self.worker is None:
            self.seen_at, self.patience = time.monotonic(), TO_START
            with suppress(Error):
                self.seen = self.last_beat()
            self.worker = subprocess.Popen(self.command, cwd=settings.BASE_DIR)

    def is_stuck(self) -> bool:
        """Say whether the worker had words brought to it for long enough and did not stir."""
        now = time.monotonic()
        try:
            beat = self.last_beat()
            if not Pulse.objects.of(CARRIER).within(LATE).exists():
                self.seen_at = now  # nothing is brought, so nothing is to be expected
            elif beat != self.seen:
                self.seen, self.seen_at, self.patience = beat, now, STUCK
        except Error:
            connections.close_all()
            self.seen_at = now
        return now - self.seen_at > self.patience

    def last_beat(self) -> datetime | None:
        """Return when the worker of this machine last stirred."""
        return Pulse.objects.filter(name=name_here(WORKER)).values_list("at", flat=True).first()

    def close(self) -> None:
        """Ask the worker to close, and end it when it does not."""
        if self.worker is None:
            return
        self.worker.send_signal(signal.SIGTERM)
        with suppress(subprocess.TimeoutExpired):
            self.worker.wait(TIME_TO_CLOSE)
            return
        self.worker.kill()
        self.worker.wait()
