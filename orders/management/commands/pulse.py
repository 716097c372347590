"""Say whether a program of the background is at work on this machine; for whoever watches over it."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from orders.background.carried import name_here
from orders.models.pulse import TICK, WORKER, Pulse

STILL_WELL = timedelta(seconds=30)


class Command(BaseCommand):
    help = "Say whether the worker or the tick of this machine was at work in the last 30 seconds."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("kind", choices=[WORKER, TICK])

    def handle(self, *args: Any, **options: Any) -> None:
        name = name_here(options["kind"])
        if not Pulse.objects.filter(name=name).within(STILL_WELL).exists():
            raise CommandError(f"{name} was not at work in the last {STILL_WELL.seconds} seconds.")
        self.stdout.write(f"{name} is at work.")
