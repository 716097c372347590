"""Is the ledger as it was written? Every seal is reckoned anew from the bytes that are stored."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import Any

from django.db import DatabaseError, connection, transaction

from orders.models.seal import ENTRY, POSTING, START, literal, sealed

Rows = list[tuple[str, ...]]


def verify_ledger() -> tuple[str, ...]:
    """Return what is wrong with the ledger, a sentence each; nothing when every byte is as sealed."""
    try:
        with transaction.atomic():
            return tuple(_faults())
    except (DatabaseError, UnicodeDecodeError, ValueError) as fault:
        return (f"The ledger cannot be read: {fault}. Restore the last backup beside it and compare.",)


def last_seal() -> str:
    """Return the newest seal with its number, to note down where this program cannot reach it."""
    rows = _rows("orders_seal", ("number", "value"))
    return f"{rows[-1][0]} {rows[-1][1].strip(chr(39))}" if rows else f"0 {START}"


def _faults() -> Iterator[str]:
    entries = {row[0]: row for row in _rows("orders_entry", ENTRY)}
    postings: dict[str, Rows] = defaultdict(list)
    for row in _rows("orders_posting", POSTING):
        postings[row[POSTING.index("entry_id")]].append(row)
    seals = _rows("orders_seal", ("number", "entry_id", "value"))
    before = START
    for place, (number, entry, value) in enumerate(seals, start=1):
        if number != str(place):
            yield f"Seal {place} is missing."
            return
        facts = [*([entries[entry]] if entry in entries else []), *postings.pop(entry, [])]
        if value != literal(sealed(before, place, facts)):
            yield f"Entry {entry} (seal {place}) is not as it was written."
        entries.pop(entry, None)
        before = value.strip("'")
    yield from (f"Entry {entry} was never sealed." for entry in entries)
    yield from (f"A posting of entry {entry} was never sealed." for entry in postings)
    yield from _numbers_without_gaps(len(seals))


def _numbers_without_gaps(seals: int) -> Iterator[str]:
    with connection.cursor() as cursor:
        cursor.execute("SELECT last_entry_number, last_receipt_number FROM orders_shop")
        counted = cursor.fetchone() or (0, 0)
        cursor.execute(
            "SELECT COUNT(receipt_number), MIN(receipt_number), MAX(receipt_number) FROM orders_entry"
        )
        count, first, last = cursor.fetchone()
    if counted[0] != seals:
        yield f"The shop counted {counted[0]} entries, and {seals} are sealed."
    if (first or 1, last or 0) != (1, count) or counted[1] != count:
        yield f"The receipts do not run from 1 to {counted[1]} without a gap."


def _rows(table: str, columns: Sequence[str]) -> Rows:
    """Read a table as SQL literals, in the order in which it was written."""
    names = ", ".join(f'"{name}"' for name in columns)
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":  # as stored, not as Django would read it
            names = ", ".join(f'quote("{name}")' for name in columns)
        cursor.execute(f'SELECT {names} FROM {table} ORDER BY "{columns[0]}"')
        return [_plain(row) for row in cursor.fetchall()]


def _plain(row: Sequence[Any]) -> tuple[str, ...]:
    if connection.vendor == "sqlite":
        return tuple(row)
    return tuple(literal(value) for value in row)
