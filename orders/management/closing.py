"""How a command that runs until it is told to stop begins and ends."""

from __future__ import annotations

import signal
import threading

from django.conf import settings
from django.core.management.base import CommandError


def refuse_without_carrier() -> None:
    if not settings.REDIS_URL:
        raise CommandError(
            "REDIS_URL is not set, so the site does its errands itself and needs nobody beside."
        )


def closing_by_signal() -> threading.Event:
    """Return what is set when this process is asked to end, by Ctrl-C or by whoever started it."""
    closing = threading.Event()
    for each in (signal.SIGINT, signal.SIGTERM):
        signal.signal(each, lambda *given: closing.set())
    return closing
