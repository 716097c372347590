"""The whole shop in one file that needs no program of ours: JSON, CSV, vCard, iCalendar, photos, papers."""

from __future__ import annotations

import hashlib
import io
import json
import os
import zipfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import IO, Any

from django.conf import settings
from django.db import models, transaction
from django.db.models import Max
from django.utils import timezone

from orders.account.books_file import as_csv
from orders.account.sealing import last_seal, verify_ledger
from orders.days.calendar_feed import Entry as OnTheCalendar
from orders.days.calendar_feed import as_calendar
from orders.keep.archive import CHUNK
from orders.keep.cards import as_cards
from orders.keep.rows import all_rows, as_lines, fields_of, kinds, name_of
from orders.keep.tables import write_table
from orders.models import Customer, Entry, Event, Order, Shop, Trip, Visit

WHAT, VERSION = "a shop of Batting Order", 1
MANIFEST = "about.json"
FOLDERS = ("photos", "papers")
Say = Callable[[str], None]
SCHEMA = {
    "json": "One array a kind of record, one row a line. Keys are the columns of the records reference; "
    "a key ending in _id is the id of a row of another kind.",
    "units": "Money in minor units of the currency of the row or the shop, lengths in ticks "
    "(1 inch is 8128, 1 centimeter 3200), instants in UTC, days of the shop's own calendar.",
    "csv": "The same rows by RFC 4180. Text that a spreadsheet would run has an apostrophe before it.",
    "left out": "Passwords, right and wrong ones, who is signed in where, work under way in the background.",
}


class Writer:
    """Puts files into a zip and keeps the hash of each."""

    def __init__(self, zipped: zipfile.ZipFile) -> None:
        self.zipped = zipped
        self.files: dict[str, str] = {}

    def text(self, name: str, parts: Iterator[str] | list[str]) -> None:
        """Write a text as UTF-8, part by part."""
        digest = hashlib.sha256()
        with self.zipped.open(_info(name, zipfile.ZIP_DEFLATED), "w", force_zip64=True) as out:
            for part in parts:
                digest.update(part.encode())
                out.write(part.encode())
        self.files[name] = digest.hexdigest()

    def file(self, name: str, path: Path) -> None:
        """Write a file as it lies on the disk."""
        digest = hashlib.sha256()
        with (
            open(path, "rb") as source,
            self.zipped.open(_info(name, zipfile.ZIP_STORED), "w", force_zip64=True) as out,
        ):
            while chunk := source.read(CHUNK):
                digest.update(chunk)
                out.write(chunk)
        self.files[name] = digest.hexdigest()


def take_along(target: Path, *, say: Say = lambda words: None) -> dict[str, Any]:
    """Write the whole shop into one file and return what it says of itself; it appears only when whole."""
    with hidden_while_written(target) as draft, zipfile.ZipFile(draft, "w") as zipped:
        writer = Writer(zipped)
        say("Records")
        with transaction.atomic():  # all records as they are at one moment
            about = _write_records(writer)
        _write_files(writer, say)
        about["files"] = writer.files
        zipped.writestr(_info(MANIFEST, zipfile.ZIP_DEFLATED), json.dumps(about, indent=1))
    return about


@contextmanager
def hidden_while_written(target: Path) -> Iterator[Path]:
    """Give a draft that becomes the target, readable by its owner alone, once it is whole."""
    draft = target.with_name(f".{target.name}.part")
    try:
        draft.touch(mode=0o600)
        yield draft
        os.replace(draft, target)
    finally:
        draft.unlink(missing_ok=True)


def _write_records(writer: Writer) -> dict[str, Any]:
    now, shop = timezone.now(), Shop.objects.get()
    counts = {}
    for kind in kinds():
        writer.text(f"json/{name_of(kind)}.json", as_lines(all_rows(kind)))
        counts[name_of(kind)] = _write_csv(writer, kind)
    writer.text("books.csv", [as_csv(Entry.objects.with_all())])
    writer.text("customers.vcf", [as_cards(shop, Customer.objects.order_by("pk"))])
    writer.text("dates.ics", [as_calendar(shop, all_dates(), now=last_change() or now)])
    return {
        "what": WHAT,
        "version": VERSION,
        "schema": SCHEMA,
        "made_at": now.isoformat(timespec="seconds"),
        "counts": counts,
        "ledger": {"last_seal": last_seal(), "sound": not verify_ledger()},
    }


def last_change() -> datetime | None:
    """Return when something last happened: what a file of dates that asks for no answer is stamped with.

    RFC 5545, 3.8.7.2: without a METHOD it is when they were last revised, not when they were written out.
    """
    return Event.objects.aggregate(last=Max("at"))["last"]


def _write_csv(writer: Writer, kind: type[models.Model]) -> int:
    out = io.StringIO(newline="")
    count = write_table(out, [field.attname for field in fields_of(kind)], all_rows(kind))
    writer.text(f"csv/{name_of(kind)}.csv", [out.getvalue()])
    return count


def _write_files(writer: Writer, say: Say) -> None:
    files = kept_files()
    for number, (name, path) in enumerate(files.items(), start=1):
        if number % 20 == 1:
            say(f"Photos and papers: {number} of {len(files)}")
        writer.file(name, path)


def kept_files() -> dict[str, Path]:
    """Return every photo and paper by its place below the data folder."""
    found = {}
    for folder in FOLDERS:
        for path in sorted((settings.DATA_DIR / folder).rglob("*")):
            if path.is_file() and path.suffix in (".jpg", ".pdf"):
                found[path.relative_to(settings.DATA_DIR).as_posix()] = path
    return found


def all_dates() -> Iterator[OnTheCalendar]:
    """Yield every date of the shop, past and to come: hand-overs, visits, what was expected back."""
    for order in Order.objects.order_by("number"):
        if day := order.promised_for or order.needed_by:
            yield OnTheCalendar(f"order-{order.pk}-hand-over", f"No. {order.number} hand-over", day)
    for visit in Visit.objects.select_related("order").order_by("at", "pk"):
        number = f"No. {visit.order.number} " if visit.order else ""
        yield OnTheCalendar(f"visit-{visit.pk}", f"{number}{visit.kind}", visit.at, visit.minutes)
    for trip in Trip.objects.select_related("order").order_by("pk"):
        yield OnTheCalendar(f"trip-{trip.pk}", f"No. {trip.order.number} {trip.what}", trip.expected_on)


def _info(name: str, how: int) -> zipfile.ZipInfo:
    info = zipfile.ZipInfo(name, date_time=datetime.now().timetuple()[:6])
    info.compress_type = how
    info.external_attr = 0o600 << 16
    return info


def hash_of_rows(kind: type[models.Model]) -> str:
    """Return the hash that the rows of a kind have as a file."""
    digest = hashlib.sha256()
    for line in as_lines(all_rows(kind)):
        digest.update(line.encode())
    return digest.hexdigest()


def hash_of_open(file: IO[bytes]) -> str:
    """Return the hash of what is left of an open file."""
    digest = hashlib.sha256()
    while chunk := file.read(CHUNK):
        digest.update(chunk)
    return digest.hexdigest()
