"""What every connection to the records must keep to: no payment lost in a power cut, no loose ends."""

from __future__ import annotations

from typing import Any

from django.core.exceptions import ImproperlyConfigured
from django.db.backends.base.base import BaseDatabaseWrapper

Differences = dict[str, tuple[object, object]]
WANTED = {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1}
# Of the server, and of what a database or an account may have been told otherwise. With a second server
# that must have the data too, `remote_apply` waits for longer than `on`.
ON_A_SERVER = {"fsync": ("on",), "full_page_writes": ("on",), "synchronous_commit": ("on", "remote_apply")}
IN_A_FILE = "Keep DATA_DIR on a disk of this machine, and OPTIONS of DATABASES as they were."
AT_THE_SERVER = "Set it in postgresql.conf, and undo what ALTER DATABASE or ALTER ROLE said otherwise."


def refuse_careless(connection: BaseDatabaseWrapper, **kwargs: Any) -> None:
    """Close the new connection and stop unless the database waits for the disk before it says done."""
    found, what_to_do = _found_careless(connection)
    careless = [f"{name} is {value}, not {wanted}" for name, (value, wanted) in found.items()]
    if careless:
        connection.close()
        raise ImproperlyConfigured(
            f"The database could lose what was acknowledged: {'; '.join(careless)}. {what_to_do}"
        )


def _found_careless(connection: BaseDatabaseWrapper) -> tuple[Differences, str]:
    if connection.vendor == "postgresql":
        return differences_on_a_server(connection), AT_THE_SERVER
    return differences(connection), IN_A_FILE


def differences(connection: BaseDatabaseWrapper) -> Differences:
    """Return what is not as it must be in a file: name, what was found, what is wanted."""
    found: dict[str, object] = {}
    with connection.cursor() as cursor:
        for pragma in WANTED:
            cursor.execute(f"PRAGMA {pragma}")
            found[pragma] = cursor.fetchone()[0]
    wanted: dict[str, object] = {**WANTED, "transaction_mode": "IMMEDIATE"}
    found["transaction_mode"] = connection.settings_dict["OPTIONS"].get("transaction_mode")
    return {name: (found[name], wanted[name]) for name in wanted if found[name] != wanted[name]}


def differences_on_a_server(connection: BaseDatabaseWrapper) -> Differences:
    """Return what is not as it must be on PostgreSQL: name, what was found, what is wanted."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT name, setting FROM pg_settings WHERE name IN (%s, %s, %s)", list(ON_A_SERVER))
        found = dict(cursor.fetchall())
    return {
        name: (found[name], wanted[0]) for name, wanted in ON_A_SERVER.items() if found[name] not in wanted
    }


def said_in_one_line(fault: Exception) -> str:
    """Return what a database says of a fault, without its hints and without its full stop."""
    said = str(fault).strip().partition("\n")[0]
    return said.removeprefix("connection failed: ").rstrip(".")
