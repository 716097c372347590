"""Every row from one database into another, SQLite or PostgreSQL, and the proof that all of them came.

Rows are carried as the databases keep them, not as today's records read them: so a backup before an update
is of the tables as they still are.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path
from typing import Any

from django.apps import apps
from django.conf import settings
from django.core.management import call_command
from django.core.management.color import no_style
from django.db import Error, connections
from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.migrations.recorder import MigrationRecorder

from orders import guards
from orders.connections import said_in_one_line

AT_ONCE = 500  # rows
OURS = "orders_"
SNAPSHOT = {"default_transaction_isolation": "repeatable\\ read", "default_transaction_read_only": "on"}
SNAPSHOT["idle_in_transaction_session_timeout"] = "0"  # it rests while the copy is made, in nobody's way


class NotCarried(Exception):
    """Nothing was carried over; the text says why."""


@contextmanager
def beside(name: str, place: dict[str, Any]) -> Iterator[BaseDatabaseWrapper]:
    """Open one more database under a name of its own."""
    made = connections.configure_settings({"default": place, name: place})[name]
    connections.settings[name] = made
    try:
        yield connections[name]
    finally:
        connections[name].close()
        del connections[name]
        del connections.settings[name]


def in_a_file(path: Path) -> dict[str, Any]:
    """Return how the records of a file are reached."""
    return {**settings.IN_A_FILE, "NAME": path}


def of_one_moment(place: dict[str, Any]) -> dict[str, Any]:
    """Return how the records on a server are read as they are at one moment, in no writer's way."""
    options = {**place["OPTIONS"]}
    told = " ".join(f"-c {name}={value}" for name, value in SNAPSHOT.items())
    options["options"] = f"{options.get('options', '')} {told}".strip()
    return {**place, "ENGINE": "django.db.backends.postgresql", "OPTIONS": options}


def tables_of(connection: BaseDatabaseWrapper) -> list[str]:
    """Return the names of all tables, in the order of the alphabet."""
    return sorted(connection.introspection.table_names())


def holds_a_shop(connection: BaseDatabaseWrapper) -> bool:
    """Say whether any row of ours is there."""
    with connection.cursor() as cursor:
        for table in tables_of(connection):
            if table.startswith(OURS):
                cursor.execute(f'SELECT 1 FROM "{table}" LIMIT 1')
                if cursor.fetchone():
                    return True
    return False


def refuse_what_cannot_hold_a_shop(target: BaseDatabaseWrapper) -> None:
    """Refuse a server that is not there, that lacks letters, or where this account may make no tables."""
    try:
        with target.cursor() as cursor:
            cursor.execute(
                "SELECT current_setting('server_encoding'), has_schema_privilege(current_schema(), 'CREATE')"
            )
            letters, may_make = cursor.fetchone()
    except Error as fault:
        raise NotCarried(f"The database cannot be opened: {said_in_one_line(fault)}.") from fault
    if letters != "UTF8":
        raise NotCarried(
            f"The database keeps letters as {letters}, which lacks some of the shop's. "
            "Make one with createdb --template=template0 --encoding=UTF8."
        )
    if not may_make:
        raise NotCarried(
            "This account may make no tables in the database. "
            "Let it own the database: ALTER DATABASE … OWNER TO …"
        )


def make_tables_like(source: BaseDatabaseWrapper, target: BaseDatabaseWrapper) -> None:
    """Make the tables that the source has, as far as it was brought up to date."""
    applied = sorted(name for app, name in MigrationRecorder(source).applied_migrations() if app == "orders")
    if not applied:
        raise NotCarried("There are no records to carry over.")
    call_command("migrate", database=target.alias, verbosity=0)
    call_command("migrate", "orders", applied[-1], database=target.alias, verbosity=0)


def carry(source: BaseDatabaseWrapper, target: BaseDatabaseWrapper) -> None:
    """Put every row of every table into the other database.

    Both connections are in a transaction of the caller's: the source stands still, and the target has
    all of it or nothing.
    """
    tables = tables_of(source)
    if tables_of(target) != tables:
        raise NotCarried("The two places do not have the same tables. Update the program on both first.")
    guards.remove(target)  # a cut stands after its yes has lapsed; written anew it would not
    with target.cursor() as cursor:
        for table in tables:  # what making the tables has put there by itself
            cursor.execute(f'DELETE FROM "{table}"')
    for table in tables:
        _carry_table(source, target, table)
    guards.install(target)
    target.check_constraints()
    _number_on(target)


def counts_of(connection: BaseDatabaseWrapper) -> dict[str, int]:
    """Return how many rows each table has."""
    counts = {}
    with connection.cursor() as cursor:
        for table in tables_of(connection):
            cursor.execute(f'SELECT count(*) FROM "{table}"')
            counts[table] = cursor.fetchone()[0]
    return counts


def _carry_table(source: BaseDatabaseWrapper, target: BaseDatabaseWrapper, table: str) -> None:
    kinds = column_kinds(target, table)
    names = ", ".join(f'"{name}"' for name in kinds)
    places = ", ".join(["%s"] * len(kinds))
    with target.cursor() as cursor:
        for rows in _in_lots(source, table, list(kinds)):
            there = [
                [_as_kept(value, kind) for value, kind in zip(row, kinds.values(), strict=True)]
                for row in rows
            ]
            if target.vendor == "sqlite":
                there = [[_for_a_file(value) for value in row] for row in there]
            cursor.executemany(f'INSERT INTO "{table}" ({names}) VALUES ({places})', there)


def _in_lots(connection: BaseDatabaseWrapper, table: str, names: Sequence[str]) -> Iterator[list[Any]]:
    """Yield the rows of a table by its first column, which numbers it; JSON comes as its text."""
    kinds = column_kinds(connection, table)
    as_text = connection.vendor == "postgresql"
    asked = ", ".join(
        f'"{name}"::text' if as_text and kinds[name] == "jsonb" else f'"{name}"' for name in names
    )
    with connection.chunked_cursor() as cursor:
        cursor.execute(f'SELECT {asked} FROM "{table}" ORDER BY {_by_bytes(connection, names[0], kinds)}')
        while rows := cursor.fetchmany(AT_ONCE):
            yield rows


def _by_bytes(connection: BaseDatabaseWrapper, name: str, kinds: dict[str, str]) -> str:
    """Return by what rows are put in order; a server may sort letters by the customs of a country."""
    letters = connection.vendor == "postgresql" and kinds[name].startswith(("character", "text"))
    return f'"{name}" COLLATE "C"' if letters else f'"{name}"'


def column_kinds(connection: BaseDatabaseWrapper, table: str) -> dict[str, str]:
    """Return what each column of a table holds, in the words that PostgreSQL has for it."""
    with connection.cursor() as cursor:
        if connection.vendor == "postgresql":
            cursor.execute(
                "SELECT attname, format_type(atttypid, NULL) FROM pg_attribute"
                " WHERE attrelid = %s::regclass AND attnum > 0 AND NOT attisdropped ORDER BY attnum",
                [f'"{table}"'],
            )
            return dict(cursor.fetchall())
        cursor.execute(f'SELECT name, type, "notnull" FROM pragma_table_info("{table}") ORDER BY cid')
        columns = {name: kind for name, kind, _ in cursor.fetchall()}
        cursor.execute("SELECT sql FROM sqlite_master WHERE name = %s", [table])
        made_by = cursor.fetchone()[0]
    return {name: _kind_in_words(name, kind.lower(), made_by) for name, kind in columns.items()}


def _kind_in_words(name: str, kind: str, made_by: str) -> str:
    """Django keeps JSON in a file as text that is checked to be JSON."""
    if kind == "text" and f'JSON_VALID("{name}")' in made_by:
        return "jsonb"
    return {"bool": "boolean", "datetime": "timestamp with time zone"}.get(kind, kind)


def _as_kept(value: Any, kind: str) -> Any:
    """Return a value as PostgreSQL takes it."""
    if value is None:
        return None
    if kind == "boolean":
        return bool(value)
    if kind == "timestamp with time zone":
        return _moment(value)
    return value


def _for_a_file(value: Any) -> Any:
    """Return a value as Django writes it into a file: an instant is in UTC, without its zone."""
    if isinstance(value, datetime):
        return str(value.astimezone(UTC).replace(tzinfo=None))
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Decimal):
        return str(value)
    return value


def _moment(value: Any) -> datetime:
    if not isinstance(value, datetime):
        value = datetime.fromisoformat(value)
    return value if value.tzinfo else value.replace(tzinfo=UTC)


def _number_on(target: BaseDatabaseWrapper) -> None:
    """Let new rows be numbered after those that came; a file does so by itself."""
    everything = list(apps.get_models(include_auto_created=True))
    here = set(tables_of(target))
    known = [each for each in everything if each._meta.db_table in here]
    with target.cursor() as cursor:
        for statement in target.ops.sequence_reset_sql(no_style(), known):
            cursor.execute(statement)


def hashes_of(connection: BaseDatabaseWrapper) -> dict[str, str]:
    """Return one hash for the rows of each table, the same for the same rows in either kind of database."""
    return {table: _hash_of(connection, table) for table in tables_of(connection)}


def _hash_of(connection: BaseDatabaseWrapper, table: str) -> str:
    kinds, digest = column_kinds(connection, table), hashlib.sha256()
    names = sorted(kinds, key=lambda name: (name != next(iter(kinds)), name))
    for rows in _in_lots(connection, table, names):
        for row in rows:
            told = [_plain(value, kinds[name]) for value, name in zip(row, names, strict=True)]
            digest.update(json.dumps(told, sort_keys=True).encode() + b"\n")
    return digest.hexdigest()


def _plain(value: Any, kind: str) -> Any:
    """Return a value in a form that both kinds of database come to."""
    if value is None:
        return None
    if kind == "jsonb":
        return json.loads(value, parse_float=_figure)
    kept = _as_kept(value, kind)
    if isinstance(kept, datetime):
        return kept.astimezone(UTC).isoformat()
    return kept if isinstance(kept, bool | int | str) else str(kept)


def _figure(text: str) -> int | float:
    """PostgreSQL writes 1e2 as 100."""
    number = float(text)
    return int(number) if number.is_integer() else number


def differences(source: dict[str, str], target: dict[str, str]) -> list[str]:
    """Return the tables whose rows are not the same."""
    return sorted(name for name in source.keys() | target.keys() if source.get(name) != target.get(name))
