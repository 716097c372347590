"""Write the whole shop into one file that needs no program of ours."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from orders.keep.taking_along import take_along
from orders.models import Shop


class Command(BaseCommand):
    help = "Example: manage.py take_along /media/stick/shop.zip"

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path, help="where to write it; nothing is ever overwritten")

    def handle(self, *args: Any, **options: Any) -> None:
        target = options["file"].expanduser().absolute()
        if Shop.objects.the() is None:
            raise CommandError("There is no shop here yet.")
        if target.exists() or not target.parent.is_dir():
            raise CommandError(f"{target} is there already, or its folder is not. Choose another name.")
        about = take_along(target)
        rows, files = sum(about["counts"].values()), len(about["files"])
        self.stdout.write(f"{target}: {rows} rows in {files} files.")
        self.stdout.write(f"Last seal of the ledger: {about['ledger']['last_seal']}.")
