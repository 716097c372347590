"""Guards inside the database: money, cuts and garments are never changed away, by any program.

The same words of refusal on SQLite and PostgreSQL.
"""

from __future__ import annotations

from typing import Any

from orders import stamp

APPEND_ONLY = {
    "orders_entry": "Money that is written down stays; write an entry the other way round.",
    "orders_posting": "Money that is written down stays; write an entry the other way round.",
    "orders_seal": "Money that is written down stays; write an entry the other way round.",
    "orders_cut": "A cut cannot be taken back.",
    "orders_stay": "Where a shirt was stays written.",
}
FORGOTTEN = "Forgotten customer"
_OF_WHOM = "SELECT 1 FROM orders_customer c WHERE c.forgotten_at IS NOT NULL AND c.id"
# What stays as it was written, but for the names of a customer who is forgotten: the words of refusal,
# the columns that hold names, and when they may give way.
BUT_FOR_NAMES = {
    "orders_event": (
        "What happened stays written.",
        ("facts",),
        "NEW.facts = '{}' AND EXISTS ("
        f"{_OF_WHOM} IN (SELECT customer_id FROM orders_order WHERE id = OLD.order_id"
        " UNION SELECT customer_id FROM orders_payer WHERE order_id = OLD.order_id"
        " UNION SELECT customer_id FROM orders_bag WHERE OLD.order_id IS NULL"
        " AND CAST(id AS TEXT) = CAST(OLD.facts ->> 'bag' AS TEXT)))",
    ),
    "orders_signature": (
        "Who signed for a count stays written; a new count is signed for anew.",
        ("name", "strokes"),
        f"NEW.name = '{FORGOTTEN}' AND NEW.strokes = '[]' AND EXISTS ("
        f"{_OF_WHOM} = (SELECT customer_id FROM orders_bag WHERE id = OLD.bag_id))",
    ),
    "orders_certificate": (
        "A gift certificate stays as it was given out.",
        ("bought_by", "given_to"),
        f"NEW.bought_by IN (OLD.bought_by, '{FORGOTTEN}') AND NEW.given_to IN (OLD.given_to, '{FORGOTTEN}')"
        " AND EXISTS (SELECT 1 FROM orders_customer WHERE forgotten_at IS NOT NULL)",
    ),
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
AS_A_CONSTRAINT = "USING ERRCODE = 'integrity_constraint_violation'"  # as SQLite calls it by itself
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
        for table in BUT_FOR_NAMES:
            for statement in _keep_but_for_names(connection, table):
                cursor.execute(statement)
    stamp.install(connection)


def remove(connection: Any) -> None:
    """Take the guards away: for the tests, which empty all tables after a run."""
    stamp.remove(connection)
    with connection.cursor() as cursor:
        single = [("orders_cut", ("INSERT",), NO_YES), ("orders_quote", ("UPDATE",), FROZEN)]
        single += [(table, ("UPDATE",), words) for table, (words, _, _) in BUT_FOR_NAMES.items()]
        for table, acts, _ in [*_guards(connection.vendor), *single]:
            for act in acts:
                on = f" ON {table}" if connection.vendor == "postgresql" else ""
                cursor.execute(f"DROP TRIGGER IF EXISTS {_name(table, act)}{on}")


def _guards(vendor: str) -> list[tuple[str, tuple[str, ...], str]]:
    emptied = ("DELETE", "TRUNCATE") if vendor == "postgresql" else ("DELETE",)
    return [
        *((table, ("UPDATE", *emptied), words) for table, words in APPEND_ONLY.items()),
        *((table, emptied, words) for table, words in NEVER_DELETED.items()),
        *((table, emptied, words) for table, (words, _, _) in BUT_FOR_NAMES.items()),
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
        f"BEGIN RAISE EXCEPTION '{said}' {AS_A_CONSTRAINT}; END $$ LANGUAGE plpgsql",
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
        f"THEN RAISE EXCEPTION '{NO_YES}' {AS_A_CONSTRAINT}; END IF; RETURN NEW; END $$ LANGUAGE plpgsql",
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
        f"BEGIN RAISE EXCEPTION '{FROZEN}' {AS_A_CONSTRAINT}; END $$ LANGUAGE plpgsql",
        f"DROP TRIGGER IF EXISTS {name} ON orders_quote",
        f"CREATE TRIGGER {name} BEFORE UPDATE OF {of} ON orders_quote FOR EACH ROW EXECUTE FUNCTION {name}()",
    ]


def _keep_but_for_names(connection: Any, table: str) -> list[str]:
    """Refuse every change but that of the named columns, and that one only of a forgotten customer."""
    said, names, when = BUT_FOR_NAMES[table]
    with connection.cursor() as cursor:
        columns = [each.name for each in connection.introspection.get_table_description(cursor, table)]
    rest = " AND ".join(
        f'NEW."{each}" IS NOT DISTINCT FROM OLD."{each}"' for each in columns if each not in names
    )
    allowed, name = f"({rest} AND {when})", _name(table, "UPDATE")
    if connection.vendor == "sqlite":
        return [
            f"CREATE TRIGGER IF NOT EXISTS {name} BEFORE UPDATE ON {table} WHEN NOT {allowed} "
            f"BEGIN SELECT RAISE(ABORT, '{said}'); END"
        ]
    return [
        f"CREATE OR REPLACE FUNCTION {name}() RETURNS trigger AS $$ BEGIN IF NOT {allowed} "
        f"THEN RAISE EXCEPTION '{said}' {AS_A_CONSTRAINT}; END IF; RETURN NEW; END $$ LANGUAGE plpgsql",
        f"DROP TRIGGER IF EXISTS {name} ON {table}",
        f"CREATE TRIGGER {name} BEFORE UPDATE ON {table} FOR EACH ROW EXECUTE FUNCTION {name}()",
    ]
