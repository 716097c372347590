"""A shop that outgrew its laptop: its records go from the file onto a server, all of them or none."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from dataclasses import dataclass, replace
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
DRAFT = ".part"
Say = Callable[[str], None]


class NotMoved(Exception):
    """Nothing was moved and nothing was changed; the text says why and what to do."""


@dataclass(frozen=True)
class Moved:
    """What came over: rows of each table, files, the last seal, and what was spoiled before.

    `is_marked` says whether the file that was left tells so.
    """

    counts: dict[str, int]
    files: int
    seal: str
    spoiled: tuple[str, ...]
    is_marked: bool = False


def move(*, files_to: Path | None = None, say: Say = lambda words: None) -> Moved:
    """Carry the shop of this data folder onto the server that DATABASE_URL names.

    The file stands still meanwhile and stays as it was. The records come in one transaction, and it ends
    only when every row, the seals of the ledger and every photo copied give the hash they had; cut off at
    any moment before, the server has no shop, and it can be done again; done again after it, nothing changes.
    """
    file, files = settings.DATA_DIR / DATABASE, files_that_go()
    refuse_what_is_no_server(file)
    if files_to is not None:
        refuse_what_is_of_another(files, files_to)
    with crossing.beside("source", crossing.in_a_file(file)) as source:
        refuse_an_old_file(source)
        with transaction.atomic("source"):  # whoever writes there waits
            if crossing.holds_a_shop(connection):
                refuse_another_shop(source)
            else:
                say("Tables")
                crossing.make_tables_like(source, connection)
            with transaction.atomic():
                moved = _move_all(source, files_to=files_to, say=say)
    return replace(moved, is_marked=marked())


def marked() -> bool:
    """Let the file say that its shop is elsewhere; where it cannot be written to, nothing is lost by that."""
    try:
        (settings.DATA_DIR / MARK).write_text(f"{timezone.now().isoformat(timespec='seconds')}\n")
    except OSError:
        return False
    return True


def refuse_what_is_no_server(file: Path) -> None:
    if connection.vendor != "postgresql":
        raise NotMoved("Say where to: manage.py move_to postgres://name@host/database")
    if not file.is_file():
        raise NotMoved(f"There is no shop in {settings.DATA_DIR}. Name its folder with DATA_DIR=…")
    crossing.refuse_what_cannot_hold_a_shop(connection)


def refuse_another_shop(source: BaseDatabaseWrapper) -> None:
    """Refuse a server that holds other rows; these are there when a try was cut off at its very end."""
    if crossing.differences(crossing.hashes_of(source), crossing.hashes_of(connection)):
        raise NotMoved("The database already holds a shop. Name an empty one.")


def refuse_an_old_file(source: BaseDatabaseWrapper) -> None:
    executor = MigrationExecutor(source)
    if executor.migration_plan(executor.loader.graph.leaf_nodes()):
        raise NotMoved("The records need an update first. Open the shop once where it is, then close it.")


def _move_all(source: BaseDatabaseWrapper, *, files_to: Path | None, say: Say) -> Moved:
    if not crossing.holds_a_shop(connection):  # now that nobody else can begin one
        say("Records")
        crossing.carry(source, connection)
    say("Every row is compared")
    if other := crossing.differences(crossing.hashes_of(source), crossing.hashes_of(connection)):
        raise NotMoved(f"The rows of {', '.join(other)} did not come as they were written.")
    if faults := verify_ledger():
        raise NotMoved(f"The ledger is not as it was written: {faults[0]}")
    say("Photos and papers")
    files = never_changing_files()
    bad = tuple(spoiled(files))
    if files_to is not None:
        copy_files(files_that_go(), files_to)
    return Moved(crossing.counts_of(connection), len(files), last_seal(), bad)


def files_that_go() -> dict[str, Path]:
    """Return photos, papers and the secret, by their place below the data folder."""
    secret = settings.DATA_DIR / "secret-key"
    return {**never_changing_files(), **({secret.name: secret} if secret.is_file() else {})}


def refuse_what_is_of_another(files: dict[str, Path], target: Path) -> None:
    """Refuse a folder that holds anything but what an earlier try may have left there."""
    for there in target.rglob("*"):
        name = there.relative_to(target).as_posix()
        if there.is_file() and not _is_left_over(there, files.get(name)):
            raise NotMoved(f"{target} holds {name} already. Name an empty folder for the photos.")


def _is_left_over(there: Path, file: Path | None) -> bool:
    return there.suffix == DRAFT or (file is not None and hash_of(there) == hash_of(file))


def copy_files(files: dict[str, Path], target: Path) -> None:
    """Copy photos, papers and the secret, and compare the hash of each; what is there already stays."""
    for name, file in files.items():
        copy = target / name
        if copy.is_file():
            continue  # from a try that was cut off, and looked at before
        copy.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        draft = copy.with_name(copy.name + DRAFT)
        shutil.copy2(file, draft)
        if hash_of(draft) != hash_of(file):
            raise NotMoved(f"{draft} is not as {file} is. Look at the disk.")
        os.replace(draft, copy)
