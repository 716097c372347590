"""PostgreSQL with one writer at a time, as SQLite has under IMMEDIATE."""

from __future__ import annotations

from contextlib import suppress

from django.db import Error
from django.db.backends.postgresql import base

from orders.stamp import WRITER


class DatabaseWrapper(base.DatabaseWrapper):
    """Begins each transaction by waiting for its turn.

    Verbs look before they write. With turns, what they saw is still so when they write, whichever rows it
    was; with row locks alone that would have to be shown of every verb, present and to come.
    """

    def _set_autocommit(self, autocommit: bool) -> None:
        super()._set_autocommit(autocommit)  # type: ignore[misc]  # Django's, of the base class
        if not autocommit:
            self._wait_for_the_turn()

    def _wait_for_the_turn(self) -> None:
        """Hold the one lock of all writers until the transaction ends; without it there is none."""
        try:
            with self.wrap_database_errors:
                self.connection.execute("SELECT pg_advisory_xact_lock(%s)", [WRITER])
        except Exception:
            with suppress(Error), self.wrap_database_errors:  # one that is gone has nothing to take back
                self.connection.rollback()
                self.connection.autocommit = True
            raise
