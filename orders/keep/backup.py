"""Backups: all of the shop in one file, and one of its own each day."""

from __future__ import annotations

import os
import shutil
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing, suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import connections, transaction
from django.utils import timezone

from orders.background import errands
from orders.keep import crossing
from orders.keep.archive import DATABASE, FOLDERS, SAFE_NAME, Archive, hash_of, read_manifest, write_archive
from orders.models.errand import Errand
from orders.models.photo import Photo

KEPT = 14
STAMP = "%Y-%m-%d-%H%M%S"


class NoBackup(Exception):
    """No backup was made; the text says why and what to do."""


def back_up(target: Path) -> Archive:
    """Put the records and every photo and paper into one file, while the shop works on."""
    if target.exists():
        raise NoBackup(f"{target} is there already. Choose another name; a backup never replaces another.")
    if not target.parent.is_dir():
        raise NoBackup(f"There is no folder {target.parent}.")
    with tempfile.TemporaryDirectory(dir=target.parent, prefix=".backup-") as folder:
        database = Path(folder) / DATABASE
        rows = copy_records(database)
        files = never_changing_files()
        return write_archive(
            target,
            inside={DATABASE: database, **files},
            beside={},
            facts=facts(rows, files),
        )


def back_up_by_itself() -> Archive:
    """Write a backup into the data folder and keep the newest fourteen.

    Photos and papers are kept once for all of them, in the same folder. A paper that was set anew when
    its customer was forgotten goes into the file itself; the older backups keep the one they knew.
    """
    refuse_without_room()
    folder = own_folder()
    folder.mkdir(mode=0o700, exist_ok=True)
    target = folder / f"{timezone.now().strftime(STAMP)}.zip"
    with tempfile.TemporaryDirectory(dir=folder, prefix=".backup-") as draft:
        database = Path(draft) / DATABASE
        rows = copy_records(database)
        files = never_changing_files()
        anew = {name: file for name, file in files.items() if differs(file, folder / name)}
        beside = {name: kept_once(files[name], folder / name) for name in files.keys() - anew.keys()}
        inside = {DATABASE: database, **anew}
        archive = write_archive(
            target, inside=inside, beside=dict(sorted(beside.items())), facts=facts(rows, files)
        )
    drop_older(folder)
    return archive


def own_folder() -> Path:
    return settings.DATA_DIR / "backups"


def own_backups() -> list[Path]:
    """Return the backups the shop made by itself, oldest first."""
    return sorted(own_folder().glob("[0-9]*.zip"))


def last_good() -> datetime | None:
    """Return when the shop last backed itself up."""
    made = own_backups()
    return datetime.strptime(made[-1].stem, STAMP).replace(tzinfo=UTC) if made else None


def refuse_without_room() -> None:
    if shutil.disk_usage(settings.DATA_DIR).free < settings.LEAST_FREE_BYTES:
        raise NoBackup("The disk has less than 200 MB left, so no backup was made. Make room on it.")


def copy_records(target: Path) -> dict[str, int]:
    """Copy the database as it is at one moment, check the copy, and return the rows of each table.

    The copy is a file whatever the records are kept in, so each backup goes back into either.
    """
    if connections["default"].vendor == "postgresql":
        copy_from_the_server(target)
    else:
        copy_the_file(target)
    with closing(sqlite3.connect(target)) as copy:
        copy.execute("PRAGMA journal_mode=DELETE")
        return checked_rows(copy)


def copy_the_file(target: Path) -> None:
    name = connections["default"].settings_dict["NAME"]
    with closing(sqlite3.connect(name, timeout=20)) as source, closing(sqlite3.connect(target)) as copy:
        source.backup(copy)  # in one step: in smaller ones it would start anew with each write


def copy_from_the_server(target: Path) -> None:
    """Write the rows of one moment into a file; nobody who writes meanwhile waits for it."""
    here = connections["default"].settings_dict
    with (
        crossing.beside("moment", crossing.of_one_moment(here)) as moment,
        crossing.beside("copy", crossing.in_a_file(target)) as copy,
        transaction.atomic("moment"),
    ):
        crossing.make_tables_like(moment, copy)
        with transaction.atomic("copy"):
            crossing.carry(moment, copy)
            refuse_another(crossing.hashes_of(moment), crossing.hashes_of(copy))


def refuse_another(source: dict[str, str], copy: dict[str, str]) -> None:
    if other := crossing.differences(source, copy):
        raise NoBackup(f"The copy of {', '.join(other)} is not as it is in the shop. Ask for help.")


def checked_rows(database: sqlite3.Connection) -> dict[str, int]:
    """Return the rows of each table of a database that is sound in itself."""
    sound = database.execute("PRAGMA integrity_check").fetchone()[0]
    if sound != "ok" or database.execute("PRAGMA foreign_key_check").fetchone():
        raise NoBackup(f"The records are not sound ({sound}). Keep the older backups, and ask for help.")
    tables = database.execute("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name")
    names = [name for (name,) in tables if not name.startswith("sqlite_")]
    return {name: database.execute(f'SELECT count(*) FROM "{name}"').fetchone()[0] for name in names}


def never_changing_files() -> dict[str, Path]:
    """Return photos and papers, by their place below the data folder."""
    found: dict[str, Path] = {}
    for folder in FOLDERS:
        for file in sorted((settings.DATA_DIR / folder).rglob("[0-9a-f]*")):
            name = file.relative_to(settings.DATA_DIR).as_posix()
            if file.is_file() and SAFE_NAME.fullmatch(name) and file.suffix != ".part":
                found[name] = file
    return found


def facts(rows: dict[str, int], files: dict[str, Path]) -> dict[str, Any]:
    return {
        "made_at": timezone.now().isoformat(timespec="seconds"),
        "rows": rows,
        "spoiled": list(spoiled(files)),
    }


def spoiled(files: dict[str, Path]) -> Iterator[str]:
    """Return the photos that are gone and the files whose bytes no longer give the hash in their name."""
    for sha256 in Photo.objects.values_list("sha256", flat=True).distinct():
        if (name := f"photos/{sha256[:2]}/{sha256}.jpg") not in files:
            yield name
    for name, file in files.items():
        if len(file.stem) == 64 and hash_of(file) != file.stem:
            yield name


def differs(file: Path, kept: Path) -> bool:
    """Say whether other bytes are kept under the name of a file."""
    return kept.exists() and not kept.samefile(file) and hash_of(kept) != hash_of(file)


def kept_once(file: Path, place: Path) -> Path:
    """Give the same file a second name in the backup folder, or copy it where the disk has no such names."""
    if not place.exists():
        place.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        try:
            os.link(file, place)
        except OSError:
            shutil.copy2(file, place)
    return place


def drop_older(folder: Path) -> None:
    """Keep the newest backups, and of the files beside them those that one of these still names."""
    for old in own_backups()[:-KEPT]:
        old.unlink()
    named = {name for archive in own_backups() for name in read_manifest(archive)["beside"]}
    for kept in FOLDERS:
        for file in (folder / kept).rglob("*.*"):
            if file.is_file() and file.relative_to(folder).as_posix() not in named:
                with suppress(FileNotFoundError):
                    file.unlink()


@errands.daily("daily backup", seconds=1800, megabytes=600)
def back_up_today(errand: Errand) -> str:
    try:
        archive = back_up_by_itself()
    except NoBackup as reason:
        raise errands.CannotBeDone(str(reason)) from reason
    return f"{archive.path.name} holds {len(archive.beside)} photos and papers and all records."
