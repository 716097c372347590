"""Say what the site still has to do in the background, and what it could not do."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from orders.models.errand import Errand


class Command(BaseCommand):
    help = "List the errands that wait, run or failed; --again NUMBER lets a failed one have another go."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--again", type=int, metavar="NUMBER", help="a failed or stopped errand")

    def handle(self, *args: Any, **options: Any) -> None:
        if options["again"] is not None:
            self.let_run_again(options["again"])
        listed = [*Errand.objects.still_open().order_by("due_at", "pk"), *Errand.objects.failed()]
        for errand in listed:
            self.stdout.write(f"{errand.pk:>6}  {errand.state:<8} {errand}. {errand.outcome}".rstrip())
        if not listed:
            self.stdout.write("Nothing waits, and nothing failed.")

    def let_run_again(self, number: int) -> None:
        errand = Errand.objects.filter(pk=number).first()
        if errand is None:
            raise CommandError(f"There is no errand {number}.")
        errand.run_again()
