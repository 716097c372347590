"""A backup put back: into an empty place only, and only after every byte of it was checked."""

from __future__ import annotations

import os
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

from django.db import connection, transaction
from django.db.migrations.loader import MigrationLoader

from orders.keep import crossing
from orders.keep.archive import DATABASE, FOLDERS, Archive, read_archive
from orders.keep.backup import NoBackup, checked_rows


class NotRestored(Exception):
    """Nothing was restored and nothing was touched; the text says why and what to do."""


def restore(path: Path, place: Path) -> Archive:
    """Check a backup, then write it into an empty place; the records come last and make it a shop."""
    refuse_a_shop(place)
    refuse_a_server_in_use()
    archive = read_archive(path)
    draft = place / ".restoring"
    shutil.rmtree(draft, ignore_errors=True)
    draft.mkdir(mode=0o700)
    try:
        archive.unpack(draft)
        check_records(draft / DATABASE, archive)
        leave_mails_unsure(draft / DATABASE)
        os.sync()
        keep(draft, place)
        os.sync()
    finally:
        shutil.rmtree(draft, ignore_errors=True)
    return archive


def keep(draft: Path, place: Path) -> None:
    """Make what a backup held the shop's own, its records on the server where it keeps them."""
    if connection.vendor != "postgresql":
        keep_files(draft, place)
        os.replace(draft / DATABASE, place / DATABASE)
        return
    file = crossing.in_a_file(draft / DATABASE)
    with crossing.beside("restored", file) as source, transaction.atomic("restored"):
        crossing.make_tables_like(source, connection)
        with transaction.atomic():
            refuse_a_server_in_use()
            crossing.carry(source, connection)
            if other := crossing.differences(crossing.hashes_of(source), crossing.hashes_of(connection)):
                raise NotRestored(f"The rows of {', '.join(other)} did not come as they were written.")
            keep_files(draft, place)  # a server that gives up before leaves the place empty


def keep_files(draft: Path, place: Path) -> None:
    for folder in FOLDERS:
        if (draft / folder).exists():
            shutil.rmtree(place / folder, ignore_errors=True)
            os.replace(draft / folder, place / folder)


def refuse_a_server_in_use() -> None:
    if connection.vendor != "postgresql":
        return
    crossing.refuse_what_cannot_hold_a_shop(connection)
    if crossing.holds_a_shop(connection):
        raise NotRestored(
            "The database already holds a shop. A backup goes into an empty one only: "
            "name another with DATABASE_URL=…"
        )


def leave_mails_unsure(database: Path) -> None:
    """A mail that waited when the backup was made may have gone since: it goes again only by another tap."""
    with closing(sqlite3.connect(database)) as records, records:
        if records.execute("SELECT 1 FROM sqlite_master WHERE name = 'orders_mail'").fetchone():
            records.execute("UPDATE orders_mail SET state = 'unsure' WHERE state IN ('waiting', 'going')")


def refuse_a_shop(place: Path) -> None:
    taken = [name for name in (DATABASE, *FOLDERS) if holds_something(place / name)]
    if taken:
        raise NotRestored(
            f"{place} already holds {' and '.join(taken)}. A backup goes into an empty place only: "
            "name another with DATA_DIR=…"
        )


def holds_something(path: Path) -> bool:
    return path.is_file() or (path.is_dir() and any(file.is_file() for file in path.rglob("*")))


def check_records(database: Path, archive: Archive) -> None:
    """Refuse records that are not sound, not complete, or from a later version of the program."""
    with closing(sqlite3.connect(database)) as records:
        try:
            rows = checked_rows(records)
        except NoBackup as fault:
            raise NotRestored(str(fault)) from fault
        if rows != archive.manifest["rows"]:
            raise NotRestored(f"{archive.path} lacks rows that it says it has.")
        applied = set(records.execute("SELECT app, name FROM django_migrations WHERE app = 'orders'"))
    if later := sorted(applied - set(MigrationLoader(None).disk_migrations)):
        raise NotRestored(
            f"{archive.path} was made by a newer version ({later[-1][1]}). Update this program first."
        )
