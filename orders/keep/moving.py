"""A shop that outgrew its laptop: its records go from the file onto a server, all of them or none."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from django.conf import settings
from django.db import connection, transaction
from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.migrations.executor import MigrationExecutor
from django.utils import timezone

from orders.account.sealing import last_seal, verify_ledger
from orders.keep import crossing
from orders.keep.archive import DATABASE, hash_of
from orders.keep.backup import never_changing_files, spoiled

MARK = "moved-to-a-server"
Say = Callable[[str], None]


class NotMoved(Exception):
    """Nothing was moved and nothing was changed; the text says why and what to do."""


@dataclass(frozen=True)
class Moved:
    """What came over: rows of each table, files, the last seal, and what was spoiled before."""

    counts: dict[str, int]
    files: int
    seal: str
    spoiled: tuple[str, ...]


def move(*, files_to: Path | None = None, say: Say = lambda words: None) -> Moved:
    """Carry the shop of this data folder onto the server that DATABASE_URL names.

    The file stands still meanwhile and stays as it was. The records come in one transaction, and it ends
    only when every row, the seals of the ledger and every photo copied give the hash they had; cut off at
    any moment before, the server has no shop, and it can be done again.
    """
    file = settings.DATA_DIR / DATABASE
    refuse_what_is_no_server(file)
    with crossing.beside("source", crossing.in_a_file(file)) as source:
        refuse_an_old_file(source)
        with transaction.atomic("source"):  # whoever writes there waits
            say("Tables")
            crossing.make_tables_like(source, connection)
            with transaction.atomic():
                moved = _move_all(source, files_to=files_to, say=say)
    (settings.DATA_DIR / MARK).write_text(f"{timezone.now().isoformat(timespec='seconds')}\n")
    return moved


def refuse_what_is_no_server(file: Path) -> None:
    if connection.vendor != "postgresql":
        raise NotMoved("Say where to: manage.py move_to postgres://name@host/database")
    if not file.is_file():
        raise NotMoved(f"There is no shop in {settings.DATA_DIR}. Name its folder with DATA_DIR=…")
    _refuse_a_server_in_use()


def _refuse_a_server_in_use() -> None:
    if crossing.holds_a_shop(connection):
        raise NotMoved("The database already holds a shop. Name an empty one.")


def refuse_an_old_file(source: BaseDatabaseWrapper) -> None:
    executor = MigrationExecutor(source)
    if executor.migration_plan(executor.loader.graph.leaf_nodes()):
        raise NotMoved("The records need an update first. Open the shop once where it is, then close it.")


def _move_all(source: BaseDatabaseWrapper, *, files_to: Path | None, say: Say) -> Moved:
    _refuse_a_server_in_use()  # now that nobody else can begin one
    say("Records")
    counts = crossing.carry(source, connection)
    say("Every row is compared")
    if other := crossing.differences(crossing.hashes_of(source), crossing.hashes_of(connection)):
        raise NotMoved(f"The rows of {', '.join(other)} did not come as they were written.")
    if faults := verify_ledger():
        raise NotMoved(f"The ledger is not as it was written: {faults[0]}")
    say("Photos and papers")
    files = never_changing_files()
    bad = tuple(spoiled(files))
    if files_to is not None:
        copy_files(files, files_to)
    return Moved(counts, len(files), last_seal(), bad)


def copy_files(files: dict[str, Path], target: Path) -> None:
    """Copy photos, papers and the secret into an empty folder, and compare the hash of each."""
    if target.exists() and any(target.iterdir()):
        raise NotMoved(f"{target} is not empty. Name an empty folder for the photos.")
    secret = settings.DATA_DIR / "secret-key"
    for name, file in {**files, **({secret.name: secret} if secret.is_file() else {})}.items():
        copy = target / name
        copy.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        shutil.copy2(file, copy)
        if hash_of(copy) != hash_of(file):
            raise NotMoved(f"{copy} is not as {file} is. Look at the disk.")
