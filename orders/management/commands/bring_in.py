"""Bring a shop in from the file that `take_along` wrote, into an empty place."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError, CommandParser

from orders.keep.bringing_in import NotBroughtIn, bring_in


class Command(BaseCommand):
    help = "Example: DATA_DIR=$HOME/moved manage.py bring_in /media/stick/shop.zip"

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path, help="a file that `take_along` or the Workroom has written")

    def handle(self, *args: Any, **options: Any) -> None:
        call_command("migrate", verbosity=0)
        place = Path(settings.DATA_DIR)
        try:
            about = bring_in(options["file"].expanduser().absolute(), place)
        except NotBroughtIn as reason:
            raise CommandError(f"{reason} Nothing was brought in.") from reason
        rows, files = sum(about["counts"].values()), len(about["files"])
        self.stdout.write(f"{place}: {rows} rows, every one of {files} files as it was written.")
        self.stdout.write("No password came along. Set one for each person: manage.py password NAME")
