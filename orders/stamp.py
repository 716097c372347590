"""The stamp of the records: one row that is another after every change, whoever made it and by which way.

Triggers write it in the transaction of the change itself, so no program can forget to, and nobody sees it
before the change. It is a word of chance and never a number: records that were restored from a backup, and
then went another way, cannot come to a stamp that stood for something else.
"""

from __future__ import annotations

from typing import Any

from django.db import transaction

TABLE = "stamp"
OURS = "orders_"
# Where somebody is signed in, what was typed wrong at the door, that a worker is alive: written all the
# time, and told on no page that is kept.
WITHOUT = ("orders_signin", "orders_signinfailure", "orders_pulse")
WORD = {"sqlite": "hex(randomblob(16))", "postgresql": "gen_random_uuid()::text"}
WRITER = 0x5158  # the lock of all writers on a server; any number that nothing else in this database uses


def stamped_tables(connection: Any) -> list[str]:
    """Return the tables of the shop whose changes show in the stamp."""
    found = connection.introspection.table_names()
    return sorted(each for each in found if each.startswith(OURS) and each not in WITHOUT)


def triggers_of(vendor: str, table: str) -> dict[str, str]:
    """Return the names of the triggers that a table has, each with what it fires at."""
    if vendor == "sqlite":
        return {f"{table}_stamps_{act.lower()}": f"AFTER {act}" for act in ("INSERT", "UPDATE", "DELETE")}
    return {f"{table}_stamps": "BEFORE INSERT OR UPDATE OR DELETE OR TRUNCATE"}


def install(connection: Any) -> None:
    """Make the row, and let every change write it."""
    word, vendor = WORD[connection.vendor], connection.vendor
    with transaction.atomic(using=connection.alias), connection.cursor() as cursor:
        cursor.execute(f"CREATE TABLE IF NOT EXISTS {TABLE} (word text NOT NULL)")
        cursor.execute(f"INSERT INTO {TABLE} SELECT {word} WHERE NOT EXISTS (SELECT 1 FROM {TABLE})")
        if vendor == "postgresql":
            cursor.execute(_in_its_turn(word))
        for table in stamped_tables(connection):
            for name, at in triggers_of(vendor, table).items():
                cursor.execute(_trigger(vendor, f"{name} {at} ON {table}"))


def remove(connection: Any) -> None:
    """Take the triggers away, and the word, since it says nothing from then on."""
    with transaction.atomic(using=connection.alias), connection.cursor() as cursor:
        for table in stamped_tables(connection):
            on = f" ON {table}" if connection.vendor == "postgresql" else ""
            for name in triggers_of(connection.vendor, table):
                cursor.execute(f"DROP TRIGGER IF EXISTS {name}{on}")
        if TABLE in connection.introspection.table_names(cursor):
            cursor.execute(f"DELETE FROM {TABLE}")


def now(connection: Any) -> str:
    """Return the stamp as it stands, or nothing where changes write none."""
    with connection.cursor() as cursor:
        cursor.execute(f"SELECT word FROM {TABLE}")
        row = cursor.fetchone()
    return row[0] if row else ""


def _in_its_turn(word: str) -> str:
    """A statement by itself waits for its turn here, as transactions do when they begin.

    It holds no row yet; without this one that holds the stamp could wait for one that holds the row.
    """
    return (
        "CREATE OR REPLACE FUNCTION stamp_a_change() RETURNS trigger AS $$ BEGIN "
        f"PERFORM pg_advisory_xact_lock({WRITER}); UPDATE {TABLE} SET word = {word}; RETURN NULL; END $$ "
        "LANGUAGE plpgsql"
    )


def _trigger(vendor: str, when: str) -> str:
    if vendor == "sqlite":
        return f"CREATE TRIGGER IF NOT EXISTS {when} BEGIN UPDATE {TABLE} SET word = {WORD[vendor]}; END"
    return f"CREATE OR REPLACE TRIGGER {when} FOR EACH STATEMENT EXECUTE FUNCTION stamp_a_change()"
