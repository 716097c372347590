"""Take the shop from the file in its data folder onto a PostgreSQL server."""

from __future__ import annotations

import os
import socket
import sys
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import Error

from orders.connections import said_in_one_line
from orders.keep.crossing import NotCarried
from orders.keep.moving import Moved, NotMoved, move


class Command(BaseCommand):
    help = "Example: manage.py move_to postgres://shop@db.example/shop (close the shop first)"
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "address", nargs="?", help="the empty database; without it, DATABASE_URL names it"
        )
        parser.add_argument("--files", type=Path, help="an empty folder that photos and papers are copied to")

    def say(self, words: str) -> None:
        self.stdout.write(f"{words} …")
        self.stdout.flush()  # while it is done, not when it is over

    def handle(self, *args: Any, **options: Any) -> None:
        files = options["files"].expanduser().absolute() if options["files"] else None
        refuse_an_open_shop()
        if options["address"]:
            begin_anew(options["address"], files)
        try:
            moved = move(files_to=files, say=self.say)
        except (NotMoved, NotCarried) as reason:
            raise CommandError(f"{reason} Nothing was moved.") from reason
        except OSError as fault:
            raise CommandError(f"Nothing was moved: {fault}.") from fault
        except Error as fault:
            raise CommandError(
                f"The database gave up: {said_in_one_line(fault)}. The shop is here as it was; do it again."
            ) from fault
        self.tell(moved)

    def tell(self, moved: Moved) -> None:
        self.stdout.write(
            f"{sum(moved.counts.values())} rows of {len(moved.counts)} tables, every hash as it was."
        )
        self.stdout.write(f"{moved.files} files of photos and papers. Last seal of the ledger: {moved.seal}.")
        for name in moved.spoiled:
            self.stderr.write(
                f"{name} was gone or damaged on this disk before. Take it from an older backup."
            )
        if not moved.is_marked:
            self.stderr.write(f"{settings.DATA_DIR} cannot be written to: do not open the old file any more.")
        self.stdout.write("Open the shop with the same DATABASE_URL from now on.")


def begin_anew(address: str, files: Path | None) -> None:
    """Start again with the address in the environment, where no list of processes shows its password."""
    more = ["--files", str(files)] if files else []
    command = [sys.executable, sys.argv[0], "move_to", *more]
    os.execve(sys.executable, command, os.environ | {"DATABASE_URL": address})


def refuse_an_open_shop() -> None:
    """A shop that is open would go on writing into the file that was left."""
    with socket.socket(socket.AF_INET6 if ":" in settings.HOST else socket.AF_INET) as probe:
        probe.settimeout(2)
        if probe.connect_ex((settings.HOST.strip("[]"), settings.PORT)) == 0:
            raise CommandError(
                f"Something answers on port {settings.PORT}. Close the shop (Ctrl-C), then move it."
            )
