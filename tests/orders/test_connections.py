"""Every connection to the records keeps what was acknowledged, or is not opened at all."""

import sqlite3

import pytest
from django.core.exceptions import ImproperlyConfigured
from django.db import connection
from django.db.backends.sqlite3.base import DatabaseWrapper

pytestmark = [pytest.mark.django_db, pytest.mark.in_a_file]
SAFE = "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON"


def opened(name, **options):
    given = {"transaction_mode": "IMMEDIATE", "init_command": SAFE, **options}
    wrapper = DatabaseWrapper({**connection.settings_dict, "NAME": str(name), "OPTIONS": given}, "another")
    try:
        wrapper.connect()
    finally:
        wrapper.close()


def test_a_careful_connection_opens(tmp_path):
    opened(tmp_path / "shop.sqlite3")


@pytest.mark.parametrize(
    ("careless", "words"),
    [
        ({"init_command": SAFE.replace("FULL", "NORMAL")}, "synchronous is 1, not 2"),
        ({"init_command": SAFE.replace("WAL", "DELETE")}, "journal_mode is delete, not wal"),
        ({"init_command": SAFE + "; PRAGMA foreign_keys=OFF"}, "foreign_keys is 0, not 1"),
        ({"transaction_mode": None}, "transaction_mode is None, not IMMEDIATE"),
    ],
)
def test_a_careless_connection_is_refused_in_words(tmp_path, careless, words):
    with pytest.raises(ImproperlyConfigured, match=words):
        opened(tmp_path / "shop.sqlite3", **careless)


def test_records_in_memory_cannot_write_ahead_and_are_refused():
    with pytest.raises(ImproperlyConfigured, match="journal_mode is memory"):
        opened(":memory:")


def test_sqlite_here_is_new_enough_for_what_is_asked_of_it():
    assert sqlite3.sqlite_version_info >= (3, 31)
