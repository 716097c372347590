"""What tests do to the records themselves, in a file and on a server."""

from django.db import connection


def let_keys_wait() -> None:
    """Look for keys that lead nowhere at the end of the transaction only, as PostgreSQL does anyway."""
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA defer_foreign_keys = ON")
