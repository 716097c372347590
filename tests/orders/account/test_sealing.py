"""Any byte of the ledger that is changed is found, however it was changed."""

from __future__ import annotations

import io
import os
import random

import pytest
from django.core.management import CommandError, call_command
from django.db import connection, transaction

from orders import guards
from orders.account import adding, giving_back, money
from orders.account.sealing import last_seal, verify_ledger
from orders.models import Account, Entry, Posting, Seal
from orders.models.seal import ENTRY, POSTING
from tests.records import let_keys_wait

pytestmark = pytest.mark.django_db
TAMPERS = int(os.environ.get("SOAK_TAMPERS", "1000"))
TABLES = {
    "orders_entry": ("id", ENTRY),
    "orders_posting": ("id", POSTING),
    "orders_seal": ("number", ("number", "entry_id", "value")),
}


@pytest.fixture
def written(agreed, ada):
    """Return an account with an entry of each kind."""
    card = {"payer": agreed.customer, "method": "card", "by": ada}
    sold = giving_back.sell_certificate(
        minor=5000, bought_by="O’Hara of Alder Steps", given_to="", method="cash", key="c", by=ada
    )
    money.take_payment(agreed, minor=5000, key="a", certificate=sold.certificate, **card)
    giving_back.bounced(money.take_payment(agreed, minor=700, key="b", **card), by=ada)
    paid = money.take_payment(agreed, minor=9000, key="d", **card)
    giving_back.give_back(paid, minor=100, method="card", key="e", by=ada)
    adding.credit(agreed, words="It's late", minor=500, key="f", by=ada)
    adding.take_tip(agreed, minor=300, key="g", **card)
    return agreed


def test_a_ledger_as_it_was_written_is_sound(written):
    assert verify_ledger() == ()
    assert Seal.objects.count() == Entry.objects.count() == 9
    assert last_seal().startswith("9 ")


def test_an_empty_shop_is_sound(shop):
    assert verify_ledger() == ()


@pytest.mark.in_a_file  # bytes are changed as SQLite keeps them
def test_every_changed_byte_of_every_stored_value_is_found(written):
    chance = random.Random("tampers")
    cells = [cell for table in TABLES for cell in _cells(table)]
    guards.remove(connection)
    let_keys_wait()
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA ignore_check_constraints = ON")
    missed = [cell for cell in chance.choices(cells, k=TAMPERS) if not _is_found(cell, chance)]
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA ignore_check_constraints = OFF")
    assert missed == []
    assert verify_ledger() == ()


def _cells(table):
    key, columns = TABLES[table]
    with connection.cursor() as cursor:
        for column in columns:
            cursor.execute(f'SELECT "{key}", "{column}", typeof("{column}") FROM {table}')
            for row, value, kind in cursor.fetchall():
                yield table, key, row, column, kind if value is not None else "null"


def _is_found(cell, chance):
    table, key, row, column, kind = cell
    place = transaction.savepoint()
    try:
        with connection.cursor() as cursor:
            cursor.execute(f'SELECT CAST("{column}" AS BLOB) FROM {table} WHERE "{key}" = %s', [row])
            changed = _changed(cursor.fetchone()[0], kind, chance)
            cast = {"integer": "INTEGER", "null": "INTEGER"}.get(kind, "TEXT")
            cursor.execute(
                f'UPDATE OR IGNORE {table} SET "{column}" = CAST(%s AS {cast}) WHERE "{key}" = %s',
                [changed, row],
            )
            if not cursor.rowcount:  # the database itself refused a number that is taken
                return True
        return verify_ledger() != ()
    finally:
        transaction.savepoint_rollback(place)


def _changed(stored, kind, chance):
    if kind in ("integer", "null"):
        return int(stored or 0) ^ (1 << chance.randrange(16))
    if not stored:
        return b"x"
    at = chance.randrange(len(stored))
    return stored[:at] + bytes([stored[at] ^ (1 << chance.randrange(7))]) + stored[at + 1 :]


@pytest.mark.parametrize(
    ("sql", "words"),
    [
        (
            "DELETE FROM orders_posting WHERE id = (SELECT MAX(id) FROM orders_posting)",
            "not as it was written",
        ),
        ("DELETE FROM orders_seal WHERE number = 3", "Seal 3 is missing"),
        ("DELETE FROM orders_seal WHERE number = 9", "was never sealed"),
        ("UPDATE orders_shop SET last_entry_number = 8", "The shop counted 8 entries, and 9 are sealed"),
        ("UPDATE orders_shop SET last_receipt_number = 5", "receipts do not run"),
        pytest.param(
            "UPDATE orders_entry SET at = REPLACE(at, ' ', 'T') WHERE key LIKE 'quote %'",
            "not as",
            marks=pytest.mark.in_a_file,  # a server keeps a moment, not the words for it
        ),
    ],
)
def test_what_is_cut_out_is_found(written, sql, words):
    guards.remove(connection)
    let_keys_wait()
    with connection.cursor() as cursor:
        cursor.execute(sql)
    assert words in " ".join(verify_ledger())
    guards.install(connection)
    let_keys_wait()  # so that the check at the end finds its keys again


def test_an_entry_that_slipped_past_the_chain_is_found(written):
    stray = Entry.objects.create(key="stray", kind="tip", day="2027-05-01", words="Tip", currency="USD")
    Posting.objects.create(entry=stray, out_of=Account.TIPS, into=Account.CASH, minor=5)
    assert any("was never sealed" in fault for fault in verify_ledger())


def test_the_command_says_so_and_ends_with_an_error(written):
    said = io.StringIO()
    call_command("verify_ledger", stdout=said)
    assert "Every entry is as it was written." in said.getvalue()
    Entry.objects.create(key="stray", kind="tip", day="2027-05-01", words="Tip", currency="USD")
    with pytest.raises(CommandError, match="not as it was written"):
        call_command("verify_ledger", stdout=said, stderr=io.StringIO())
