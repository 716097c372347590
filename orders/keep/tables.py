"""Records as tables for any spreadsheet: RFC 4180, and no cell that one would run."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterable, Sequence
from typing import Any, TextIO

from orders.account.books_file import STARTS_A_FORMULA


def write_table(out: TextIO, columns: Sequence[str], rows: Iterable[dict[str, Any]]) -> int:
    """Write a header and one line a row, CRLF at each end; return the rows."""
    writer, count = csv.writer(out, lineterminator="\r\n"), 0
    writer.writerow(columns)
    for row in rows:
        writer.writerow([cell(row[name]) for name in columns])
        count += 1
    return count


def cell(value: Any) -> str:
    """Return a value as a cell; text that a spreadsheet would take for a formula gets an apostrophe."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int):
        return str(value)
    text = value if isinstance(value, str) else json.dumps(value, sort_keys=True)
    return f"'{text}" if text.lstrip(" ").startswith(STARTS_A_FORMULA) else text
