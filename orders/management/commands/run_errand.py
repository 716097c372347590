"""Do one errand that was claimed, inside limits; the site starts this, people need not."""

from __future__ import annotations

import resource
import signal
from contextlib import suppress
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from orders.background import errands
from orders.models.errand import Errand


class Command(BaseCommand):
    help = "Do one claimed errand in this process, within its limits of memory and time."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("number", type=int)

    def handle(self, *args: Any, **options: Any) -> None:
        taken = Errand.objects.filter(pk=options["number"], state=Errand.State.RUNNING).first()
        if taken is None:
            raise CommandError(f"Errand {options['number']} is not under way.")
        handler = errands.handlers().get(taken.kind)
        if handler:
            keep_within(seconds=handler.seconds, megabytes=handler.megabytes)
        errands.attempt(taken, timezone.now())


def keep_within(*, seconds: int, megabytes: int) -> None:
    """Let the system end this process after its time, and refuse it memory beyond its share."""
    signal.signal(signal.SIGALRM, signal.SIG_DFL)
    signal.alarm(seconds)
    most = megabytes * 1024 * 1024
    with suppress(ValueError, OSError):  # not every system limits this
        resource.setrlimit(resource.RLIMIT_DATA, (most, most))
        resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 1))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
