"""The chain over the ledger: each entry is sealed with the seal before it, so no byte changes unseen."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from datetime import UTC, date, datetime
from typing import Any

from django.db import models

ENTRY = (
    "id", "key", "kind", "at", "day", "by_id", "order_id", "payer_id", "method", "words", "currency",
    "receipt_number", "reverses_id", "of_id", "certificate_id",
)  # fmt: skip
POSTING = ("id", "entry_id", "position", "out_of", "into", "minor")
START = "0" * 64


class Seal(models.Model):
    """The seal of one entry with its postings; numbers have no gap."""

    number = models.PositiveIntegerField(primary_key=True)
    entry = models.OneToOneField("orders.Entry", models.PROTECT, related_name="seal")
    value = models.CharField(max_length=64)

    def __str__(self) -> str:
        return f"Seal {self.number}"

    @classmethod
    def put_on(cls, entry: Any, postings: Iterable[Any], *, number: int) -> Seal:
        """Seal an entry just written; the shop's row is locked, so nobody else seals meanwhile."""
        last = cls.objects.filter(number=number - 1).first()
        facts = [literals(entry, ENTRY), *(literals(each, POSTING) for each in postings)]
        before = last.value if last else START
        return cls.objects.create(number=number, entry=entry, value=sealed(before, number, facts))


def sealed(before: str, number: int, facts: Sequence[Sequence[str]]) -> str:
    """Return the SHA-256 of the seal before, the number, and every stored value as an SQL literal."""
    lines = [before, str(number), *(", ".join(row) for row in facts)]
    return hashlib.sha256("\n".join(lines).encode()).hexdigest()


def literals(record: Any, columns: Sequence[str]) -> list[str]:
    """Return a record's values as the database keeps them."""
    return [literal(getattr(record, name)) for name in columns]


def literal(value: Any) -> str:
    """Return one value as an SQL literal: a date is ISO, an instant is UTC without its zone."""
    if value is None:
        return "NULL"
    if isinstance(value, int):
        return str(value)
    if isinstance(value, datetime):
        value = value.astimezone(UTC).replace(tzinfo=None) if value.tzinfo else value
    elif isinstance(value, date):
        value = value.isoformat()
    return "'{}'".format(str(value).replace("'", "''"))
