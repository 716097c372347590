"""Open a made-up shop to look round in."""

from __future__ import annotations

from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError, CommandParser

from orders.background import errands
from orders.demo.shop import HELPER, OWNER, PASSWORD, NotADemo, open_demo


class Command(BaseCommand):
    help = "Example: manage.py demo. Opens a made-up shop; safe to run twice; refuses where a real one is."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--draw", action="store_true", help="draw all photographs before coming back")

    def handle(self, *args: Any, **options: Any) -> None:
        call_command("migrate", verbosity=0)
        try:
            opened = open_demo()
        except NotADemo as fault:
            raise CommandError(str(fault)) from fault
        self.stdout.write("The demo shop is open." if opened else "The demo shop stands already.")
        self.stdout.write(f"Sign in as {OWNER} (owner) or {HELPER} (helper) with: {PASSWORD}")
        if options["draw"]:
            done = 0
            while finished := errands.run_due():
                done += len(finished)
            self.stdout.write(f"{done} errands done.")
