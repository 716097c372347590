"""Shops of their own in folders and databases of their own, worked by the program's very commands."""

from __future__ import annotations

import os
import subprocess
import sys
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from tests.conftest import ROOT, leave_out
from tests.services.servers import PostgreSQL, missing, running

FILL = """
from tests.orders.pictures import drawing, receive, saved
from orders.background import errands
from orders.demo.shop import open_demo
from orders.models import Person, Shirt
open_demo()
by = Person.objects.first()
for side, shirt in enumerate(Shirt.objects.order_by("pk")[:3]):
    receive(saved(drawing(400 + side, 300)), of=shirt, by=by)
from django.conf import settings
paper = settings.DATA_DIR / "papers" / "7.pdf"
paper.parent.mkdir(parents=True, exist_ok=True)
paper.write_bytes(b"%PDF-1.7 of a quote")
"""
TELL = """
import json
from django.db import connection, transaction
from orders.account.sealing import last_seal, verify_ledger
from orders.keep import crossing
with transaction.atomic():
    print(json.dumps({
        "hashes": crossing.hashes_of(connection), "seal": last_seal(), "faults": list(verify_ledger()),
    }))
"""


@dataclass
class Place:
    """A data folder, and the database its records are in when that is not a file there."""

    folder: Path
    database: str = ""
    more: dict[str, str] = field(default_factory=dict)

    def env(self) -> dict[str, str]:
        drop = ("DJANGO_SETTINGS_MODULE", "TEST_DATABASE_URL", "DATABASE_URL", "REDIS_URL", "ADDRESS")
        drop += ("SECRET_KEY", "DJANGO_ALLOW_ASYNC_UNSAFE")  # the last for a browser of the tests
        clean = {name: value for name, value in os.environ.items() if name not in drop}
        own = {"DATA_DIR": str(self.folder), "PORT": "8948", "PYTHONPATH": str(ROOT)}
        own |= {"DJANGO_SETTINGS_MODULE": "config.settings"}
        return clean | own | ({"DATABASE_URL": self.database} if self.database else {}) | self.more

    def manage(self, *words: Any, well: bool = True) -> str:
        """Run a command of the program; return what it says."""
        done = self.run([sys.executable, "manage.py", *map(str, words)])
        if well:
            assert done.returncode == 0, done.stdout + done.stderr
        else:
            assert done.returncode != 0, done.stdout
        return done.stdout + done.stderr

    def python(self, script: str) -> str:
        """Run a script inside the program."""
        start = "import django\ndjango.setup()\n"
        done = self.run([sys.executable, "-c", start + script])
        assert done.returncode == 0, done.stdout + done.stderr
        return done.stdout

    def run(self, command: list[str]) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            command, cwd=ROOT, env=self.env(), capture_output=True, text=True, timeout=300, check=False
        )

    def told(self) -> dict[str, Any]:
        """Return a hash of the rows of each table, the last seal, and what is wrong with the ledger."""
        import json

        return dict(json.loads(self.python(TELL)))


@contextmanager
def server() -> Iterator[PostgreSQL]:
    """Have a PostgreSQL of our own for as long as the block takes."""
    if sentences := [each for each in missing() if "postgres" in each]:
        leave_out(sentences[0])
    with running(PostgreSQL()) as postgres:
        yield postgres  # type: ignore[misc]


def new_database(postgres: PostgreSQL) -> str:
    """Return the address of an empty database."""
    import psycopg

    name = f"shop_{uuid.uuid4().hex[:10]}"
    with psycopg.connect(
        host=str(postgres.folder), port=postgres.port, user="shop", dbname="postgres", autocommit=True
    ) as line:
        line.execute(f'CREATE DATABASE "{name}"')
    return postgres.url(name)
