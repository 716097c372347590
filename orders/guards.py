"""Guards inside the database: money, cuts and garments are never changed away, by any program.

The same words of refusal on SQLite and PostgreSQL.
"""

from __future__ import annotations

from typing import Any

APPEND_ONLY = {
    "orders_entry": "Money that is written down stays; write an entry the other way round.",
    "orders_posting": "Money that is written down stays; write an entry the other way round.",
    "orders_seal": "Money that is written down stays; write an entry the other way round.",
    "orders_certificate": "A gift certificate stays as it was given out.",
    "orders_cut": "A cut cannot be taken back.",
    "orders_event": "What happened stays written.",
    "orders_stay": "Where a shirt was stays written.",
    "orders_signature": "Who signed for a count stays written; a new count is signed for anew.",
}
NEVER_DELETED = {
    "orders_shirt": "A shirt is never deleted: give it back, or leave it out.",
    "orders_bag": "A bag is never deleted: hand it back.",
    "orders_approvedpiece": "A yes is taken back, never deleted.",
    "orders_consent": "A yes is taken back, never deleted.",
    "orders_incident": "What went wrong stays written.",
    "orders_quote": "A quote is withdrawn or replaced, never deleted.",
}
FROZEN_QUOTE = (
    "number", "order_id", "lines", "taxes", "currency", "net", "tax", "total", "deposit", "instalments",
    "dues", "told_with_id", "together", "planned_for", "depends_on", "terms", "settling", "size", "minutes",
    "paid_out", "layout", "issued_at", "issued_by_id", "valid_until",
)  # fmt: skip
FROZEN = "A quote stays as it was told; issue a new one."
NO_YES = "There is no cut without a yes that stands."
# Taken back, or for a day that was over when the blade came down.
YES_IS_GONE = (
    "EXISTS (SELECT 1 FROM orders_approvedpiece WHERE id = NEW.approved_id"
    " AND (withdrawn_at IS NOT NULL OR until <= NEW.at))"
)


def install(connection: Any) -> None:
    """Put every guard in place."""
    with connection.cursor() as cursor:
        for table, acts, words in _guards(connection.vendor):
            for act in acts:
                for statement in _create(connection.vendor, table, act, words):
                    cursor.execute(statement)
        for statement in [*_watch_the_blade(connection.vendor), *_freeze_quotes(connection.vendor)]:
            cursor.execute(statement)


def remove(connection: Any) -> None:
    """Take the guards away: for the tests, which empty all tables after a run."""
    with connection.cursor() as cursor:
        single = [("orders_cut", ("INSERT",), NO_YES), ("orders_quote", ("UPDATE",), FROZEN)]
        for table, acts, _ in [*_guards(connection.vendor), *single]:
            for act in acts:
                on = f" ON {table}" if connection.vendor == "postgresql" else ""
                cursor.execute(f"DROP TRIGGER IF EXISTS {_name(table, act)}{on}")


def _guards(vendor: str) -> list[tuple[str, tuple[str, ...], str]]:
    emptied = ("DELETE", "TRUNCATE") if vendor == "postgresql" else ("DELETE",)
    return [
        *((table, ("UPDATE", *emptied), words) for table, words in APPEND_ONLY.items()),
        *((table, emptied, words) for table, words in NEVER_DELETED.items()),
    ]


def _name(table: str, act: str) -> str:
    return f"{table}_no_{act.lower()}"


def _create(vendor: str, table: str, act: str, words: str) -> list[str]:
    name, said = _name(table, act), words.replace("'", "''")
    if vendor == "sqlite":
        return [
            f"CREATE TRIGGER IF NOT EXISTS {name} BEFORE {act} ON {table} "
            f"BEGIN SELECT RAISE(ABORT, '{said}'); END"
        ]
    return [
        f"CREATE OR REPLACE FUNCTION {name}() RETURNS trigger AS $$ "
        f"BEGIN RAISE EXCEPTION '{said}'; END $$ LANGUAGE plpgsql",
        f"DROP TRIGGER IF EXISTS {name} ON {table}",
        f"CREATE TRIGGER {name} BEFORE {act} ON {table} "
        f"FOR EACH {'STATEMENT' if act == 'TRUNCATE' else 'ROW'} EXECUTE FUNCTION {name}()",
    ]


def _watch_the_blade(vendor: str) -> list[str]:
    name = _name("orders_cut", "INSERT")
    if vendor == "sqlite":
        return [
            f"CREATE TRIGGER IF NOT EXISTS {name} BEFORE INSERT ON orders_cut WHEN {YES_IS_GONE} "
            f"BEGIN SELECT RAISE(ABORT, '{NO_YES}'); END"
        ]
    return [
        f"CREATE OR REPLACE FUNCTION {name}() RETURNS trigger AS $$ BEGIN IF {YES_IS_GONE} "
        f"THEN RAISE EXCEPTION '{NO_YES}'; END IF; RETURN NEW; END $$ LANGUAGE plpgsql",
        f"DROP TRIGGER IF EXISTS {name} ON orders_cut",
        f"CREATE TRIGGER {name} BEFORE INSERT ON orders_cut FOR EACH ROW EXECUTE FUNCTION {name}()",
    ]


def _freeze_quotes(vendor: str) -> list[str]:
    """What a quote told stays; that it was said yes to, taken back or replaced is written beside it."""
    name = _name("orders_quote", "UPDATE")
    of = ", ".join(FROZEN_QUOTE)
    if vendor == "sqlite":
        return [
            f"CREATE TRIGGER IF NOT EXISTS {name} BEFORE UPDATE OF {of} ON orders_quote "
            f"BEGIN SELECT RAISE(ABORT, '{FROZEN}'); END"
        ]
    return [
        f"CREATE OR REPLACE FUNCTION {name}() RETURNS trigger AS $$ "
        f"BEGIN RAISE EXCEPTION '{FROZEN}'; END $$ LANGUAGE plpgsql",
        f"DROP TRIGGER IF EXISTS {name} ON orders_quote",
        f"CREATE TRIGGER {name} BEFORE UPDATE OF {of} ON orders_quote FOR EACH ROW EXECUTE FUNCTION {name}()",
    ]
