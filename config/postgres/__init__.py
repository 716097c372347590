"""The records on a PostgreSQL server, held to what a file of SQLite promises."""

from __future__ import annotations

from importlib.util import find_spec
from typing import Any

from django.core.exceptions import ImproperlyConfigured

# In milliseconds. As long as SQLite waits for its one writer; and a program that was halted in the middle
# of a transaction lets go of it, or nobody else could write.
PATIENCE = {"lock_timeout": 20_000, "idle_in_transaction_session_timeout": 20_000}


def on_a_server(place: dict[str, Any] | None) -> dict[str, Any] | None:
    """Return the database settings for a place on a server, or nothing when there is none."""
    if place is None:
        return None
    if find_spec("psycopg") is None:
        raise ImproperlyConfigured(
            "DATABASE_URL is set, but what speaks to PostgreSQL is not installed. "
            "Install requirements-server.lock, or unset DATABASE_URL."
        )
    told = " ".join(f"-c {name}={value}" for name, value in PATIENCE.items())
    return {
        "ENGINE": "config.postgres",
        **place,
        "CONN_MAX_AGE": 60,
        "CONN_HEALTH_CHECKS": True,
        "OPTIONS": {"connect_timeout": 5, "options": told, **place["OPTIONS"]},
    }
