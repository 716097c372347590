"""The books as a file for an accountant: RFC 4180, and no cell that a spreadsheet would run."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator

from orders.models import Entry
from planner.units import decimals

COLUMNS = ("day", "receipt", "what", "order", "payer", "words", "method", "from", "to", "amount", "currency")
STARTS_A_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


def as_csv(entries: Iterable[Entry]) -> str:
    """Return the entries as RFC 4180 text: a header, one row a posting, CRLF at each end.

    Text that a spreadsheet would take for a formula gets an apostrophe before it.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    writer.writerows([_plain(cell) for cell in row] for entry in entries for row in _rows(entry))
    return out.getvalue()


def _rows(entry: Entry) -> Iterator[tuple[str, ...]]:
    for each in entry.postings.all():
        yield (
            entry.day.isoformat(),
            str(entry.receipt_number or ""),
            entry.kind,
            str(entry.order or ""),
            str(entry.payer or ""),
            entry.words,
            entry.method,
            each.out_of,
            each.into,
            _amount(each.minor, entry.currency),
            entry.currency,
        )


def _amount(minor: int, currency: str) -> str:
    places = decimals(currency)
    whole, rest = divmod(minor, 10**places)
    return f"{whole}.{rest:0{places}d}" if places else str(whole)


def _plain(cell: str) -> str:
    return f"'{cell}" if cell.lstrip(" ").startswith(STARTS_A_FORMULA) else cell
