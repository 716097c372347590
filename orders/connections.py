"""What every connection to the records must keep to: no payment lost in a power cut, no loose ends."""

from __future__ import annotations

from typing import Any

from django.core.exceptions import ImproperlyConfigured
from django.db.backends.base.base import BaseDatabaseWrapper

WANTED = {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1}


def refuse_careless(connection: BaseDatabaseWrapper, **kwargs: Any) -> None:
    """Close the new connection and stop unless SQLite writes ahead, waits for the disk and minds its keys."""
    if connection.vendor != "sqlite":
        return
    found = differences(connection).items()
    careless = [f"{name} is {value}, not {wanted}" for name, (value, wanted) in found]
    if careless:
        connection.close()
        raise ImproperlyConfigured(
            f"The database could lose what was acknowledged: {'; '.join(careless)}. "
            "Keep DATA_DIR on a disk of this machine, and OPTIONS of DATABASES as they were."
        )


def differences(connection: BaseDatabaseWrapper) -> dict[str, tuple[object, object]]:
    """Return what is not as it must be: name, what was found, what is wanted."""
    found: dict[str, object] = {}
    with connection.cursor() as cursor:
        for pragma in WANTED:
            cursor.execute(f"PRAGMA {pragma}")
            found[pragma] = cursor.fetchone()[0]
    wanted: dict[str, object] = {**WANTED, "transaction_mode": "IMMEDIATE"}
    found["transaction_mode"] = connection.settings_dict["OPTIONS"].get("transaction_mode")
    return {name: (found[name], wanted[name]) for name in wanted if found[name] != wanted[name]}
