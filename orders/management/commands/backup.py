"""Put all of the shop into one file."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from orders.keep.backup import NoBackup, back_up


class Command(BaseCommand):
    help = "Write records, photos and papers into one file, while the shop works on."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path, help="such as /media/stick/shop-2027-03-15.zip")

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            archive = back_up(options["file"].expanduser().absolute())
        except NoBackup as reason:
            raise CommandError(str(reason)) from reason
        except OSError as fault:
            raise CommandError(f"No backup was made: {fault.strerror or fault}.") from fault
        rows = sum(archive.manifest["rows"].values())
        files = len(archive.inside) - 1
        self.stdout.write(f"{archive.path}: {rows} rows, {files} files of photos and papers, sealed.")
        for name in archive.manifest["spoiled"]:
            self.stderr.write(f"{name} is gone or damaged on this disk. Take it from an older backup.")
