"""Reckon every seal of the ledger anew and say whether a byte was changed."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.db import connection

from orders.account.sealing import last_seal, verify_ledger


class Command(BaseCommand):
    help = "Say whether the ledger is as it was written; ends with 1 when it is not."

    def handle(self, *args: Any, **options: Any) -> None:
        connection.ensure_connection()  # records that are out of reach are no ledger that was changed
        faults = verify_ledger()
        for fault in faults:
            self.stderr.write(fault)
        if faults:
            raise CommandError("The ledger is not as it was written. Keep this copy, and compare a backup.")
        self.stdout.write("Every entry is as it was written.")
        self.stdout.write(f"Last seal: {last_seal()}. Note it down elsewhere to prove that none is cut off.")
