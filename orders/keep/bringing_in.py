"""A shop brought back from its own file, into an empty place only; kept when every hash is as it was."""

from __future__ import annotations

import json
import os
import re
import shutil
import zipfile
from collections.abc import Iterable, Iterator
from itertools import islice
from pathlib import Path
from typing import Any

from django.apps import apps
from django.core.management.color import no_style
from django.db import IntegrityError, connection, models, transaction

from orders import guards
from orders.account.sealing import last_seal, verify_ledger
from orders.keep.rows import AT_ONCE, kinds, name_of, read_back
from orders.keep.taking_along import FOLDERS, MANIFEST, VERSION, WHAT, hash_of_open, hash_of_rows
from orders.models import Person, Shop

SAFE = re.compile(
    r"(json|csv)/[a-z_]+\.(json|csv)|books\.csv|customers\.vcf|dates\.ics"
    rf"|({'|'.join(FOLDERS)})/([0-9a-f]{{2}}/)?[0-9A-Za-z][0-9A-Za-z._-]*"
)


class NotBroughtIn(Exception):
    """Nothing was brought in and nothing was changed; the text says why and what to do."""


def bring_in(path: Path, place: Path) -> dict[str, Any]:
    """Check a file of `take_along` to its last byte, then make it the shop of this empty place.

    All of it or nothing: the records come in one transaction, and it ends only when every row, the
    seals of the ledger and every photo and paper give the hash that the file says.
    """
    refuse_a_shop(place)
    try:
        with zipfile.ZipFile(path) as zipped:
            about = _about(zipped)
            _check_hashes(zipped, about["files"])
            draft = place / ".bringing-in"
            try:
                _unpack(zipped, about["files"], draft)
                _keep(zipped, about, draft, place)
            finally:
                shutil.rmtree(draft, ignore_errors=True)
    except (zipfile.BadZipFile, OSError, EOFError, NotImplementedError) as fault:
        raise NotBroughtIn(f"{path} cannot be read ({fault}).") from fault
    return about


def refuse_a_shop(place: Path) -> None:
    """Refuse a place where anybody works or any picture lies already."""
    files = any(each.is_file() for folder in FOLDERS for each in (place / folder).rglob("*"))
    if Shop.objects.exists() or Person.objects.exists() or files:
        raise NotBroughtIn(f"{place} already holds a shop. Name an empty place with DATA_DIR=…")


def _about(zipped: zipfile.ZipFile) -> dict[str, Any]:
    try:
        about = json.loads(zipped.read(MANIFEST))
        files, known = about["files"], about["what"] == WHAT
    except (KeyError, ValueError, TypeError) as fault:
        raise NotBroughtIn("This is no file of a shop: it does not say what it is.") from fault
    if not known or about["version"] != VERSION:
        raise NotBroughtIn("This file was made by another version of the program. Update this one first.")
    if lacking := [name for name in map(_json_of, kinds()) if name not in files]:
        raise NotBroughtIn(f"The file lacks {lacking[0]}. Export the shop anew.")
    return dict(about)


def _json_of(kind: type[models.Model]) -> str:
    return f"json/{name_of(kind)}.json"


def _check_hashes(zipped: zipfile.ZipFile, wanted: dict[str, str]) -> None:
    for name, sha256 in wanted.items():
        if not SAFE.fullmatch(name):
            raise NotBroughtIn(f"The file holds {name!r}, which belongs to no shop.")
        try:
            with zipped.open(name) as file:
                found = hash_of_open(file)
        except KeyError as fault:
            raise NotBroughtIn(f"{name} is not in the file. Take another copy of it.") from fault
        except Exception as fault:  # zlib has errors of its own
            raise NotBroughtIn(
                f"{name} cannot be unpacked ({fault}). Take another copy of the file."
            ) from fault
        if found != sha256:
            raise NotBroughtIn(f"{name} is not as it was written. Take another copy of the file.")


def _unpack(zipped: zipfile.ZipFile, names: Iterable[str], draft: Path) -> None:
    for name in names:
        if name.startswith(tuple(f"{folder}/" for folder in FOLDERS)):
            (draft / name).parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            with zipped.open(name) as source, open(draft / name, "wb") as out:
                shutil.copyfileobj(source, out)


def _keep(zipped: zipfile.ZipFile, about: dict[str, Any], draft: Path, place: Path) -> None:
    try:
        with transaction.atomic():
            guards.remove(connection)  # a cut stands after its yes has lapsed; written anew it would not
            for kind in kinds():
                _write(kind, json.loads(zipped.read(_json_of(kind))))
            guards.install(connection)
            connection.check_constraints()
            _number_on()
            _compare(about)
            os.sync()
            for folder in FOLDERS:
                if (draft / folder).exists():
                    shutil.rmtree(place / folder, ignore_errors=True)
                    os.replace(draft / folder, place / folder)
    except (IntegrityError, KeyError, ValueError, TypeError) as fault:
        raise NotBroughtIn(f"The records of the file do not fit together ({fault}).") from fault


def _write(kind: type[models.Model], rows: list[dict[str, Any]]) -> None:
    records = read_back(kind, rows)
    while some := list(islice(records, AT_ONCE)):
        kind._base_manager.bulk_create(some)


def _number_on() -> None:
    """Let new rows be numbered after those that came; SQLite does so by itself."""
    models_here = list(apps.get_app_config("orders").get_models(include_auto_created=True))
    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), models_here):
            cursor.execute(statement)


def _compare(about: dict[str, Any]) -> None:
    """Refuse what came when it is not, to the last byte, what was taken along."""
    for difference in _differences(about):
        raise NotBroughtIn(difference)


def _differences(about: dict[str, Any]) -> Iterator[str]:
    for kind in kinds():
        if hash_of_rows(kind) != about["files"][_json_of(kind)]:
            yield f"The rows of {name_of(kind)} did not come as they were written."
        if kind._base_manager.count() != about["counts"][name_of(kind)]:
            yield f"Some rows of {name_of(kind)} are lacking."
    if last_seal() != about["ledger"]["last_seal"]:
        yield "The last seal of the ledger is not the one that was written down."
    if about["ledger"]["sound"]:
        yield from verify_ledger()
