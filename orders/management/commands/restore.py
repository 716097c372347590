"""Put a backup back, into an empty place."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import Error

from orders.connections import said_in_one_line
from orders.keep.archive import Damaged
from orders.keep.crossing import NotCarried
from orders.keep.restore import NotRestored, restore


class Command(BaseCommand):
    help = "Example: DATA_DIR=$HOME/restored manage.py restore /media/stick/shop-2027-03-15.zip"
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path, help="a file that `backup` or the shop itself has written")

    def handle(self, *args: Any, **options: Any) -> None:
        place = settings.DATA_DIR
        try:
            archive = restore(options["file"].expanduser().absolute(), place)
        except (Damaged, NotRestored, NotCarried) as reason:
            raise CommandError(f"{reason} Nothing was changed in {place}.") from reason
        except OSError as fault:
            sentence = f"It could not be written: {fault.strerror or fault}. {place} has no shop yet."
            raise CommandError(sentence) from fault
        except Error as fault:
            sentence = (
                f"The database gave up: {said_in_one_line(fault)}. {place} has no shop yet; do it again."
            )
            raise CommandError(sentence) from fault
        rows = sum(archive.manifest["rows"].values())
        files = len(archive.inside) - 1 + len(archive.beside)
        self.stdout.write(f"{place}: {rows} rows, {files} files of photos and papers, every hash as it was.")
        self.stdout.write("Open it with the same DATA_DIR. Passwords hold; everyone signs in anew.")
