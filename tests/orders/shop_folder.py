"""What lies in the folder of a shop."""

import sqlite3
from contextlib import closing

from orders.keep.archive import hash_of


def rows(database):
    with closing(sqlite3.connect(database)) as records:
        tables = [name for (name,) in records.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        return {
            table: sorted(map(repr, records.execute(f'SELECT * FROM "{table}"')))
            for table in tables
            if not table.startswith("sqlite_")
        }


def hashes(folder):
    return {
        str(file.relative_to(folder)): hash_of(file)
        for kept in ("photos", "papers")
        for file in (folder / kept).rglob("*")
        if file.is_file()
    }


def everything(folder):
    return sorted(folder.rglob("*"))
