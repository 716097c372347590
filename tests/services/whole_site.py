"""A site on a server: its PostgreSQL and Redis, and the processes beside the web."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import psycopg

from tests.conftest import ROOT, leave_out
from tests.services.servers import PostgreSQL, Redis, missing, running
from tests.services.shops import Place, new_database


@dataclass
class Site:
    """Where each part of a running site is."""

    place: Place
    postgres: PostgreSQL
    redis: Redis
    folder: Path

    def ask(self, query: str) -> list[tuple[Any, ...]]:
        """Return the rows that the records have for a query."""
        name = self.place.database.split("/")[3].split("?")[0]
        with psycopg.connect(
            host=str(self.postgres.folder), port=self.postgres.port, user="shop", dbname=name, autocommit=True
        ) as line:
            return (
                line.execute(query).fetchall() if query.startswith("SELECT") else line.execute(query) and []
            )

    @contextmanager
    def process(self, name: str, *command: str) -> Iterator[subprocess.Popen[bytes]]:
        """Have a process of the site for as long as the block takes; what it says is kept in a file."""
        with open(self.folder / f"{name}.log", "wb") as said:
            started = subprocess.Popen(
                [sys.executable, *command], cwd=ROOT, env=self.place.env(), stdout=said, stderr=said
            )
        try:
            yield started
        finally:
            started.terminate()
            with suppress(subprocess.TimeoutExpired):
                started.wait(20)
            started.kill()
            started.wait()

    def said(self, name: str) -> str:
        return (self.folder / name).with_suffix(".log").read_text(errors="replace")

    def last_said(self) -> str:
        """Return what each process said last: for a test that failed."""
        return "\n".join(f"{file.name}: {self.said(file.name)[-1500:]}" for file in self.folder.glob("*.log"))


@contextmanager
def site(folder: Path) -> Iterator[Site]:
    """Have both servers and records that are up to date."""
    if sentences := missing():
        leave_out(" ".join(sentences))
    postgres, redis = PostgreSQL(), Redis()
    with running(postgres), running(redis):
        more = {"REDIS_URL": redis.url, "DJANGO_SETTINGS_MODULE": "tests.services.fault_settings"}
        place = Place(folder / "data", new_database(postgres), more)
        place.manage("migrate", "-v0")
        yield Site(place, postgres, redis, folder)


def wait_until(it_is_so: Callable[[], Any], *, seconds: float, otherwise: Callable[[], str]) -> None:
    """Look every moment until something is so; whoever is away for a moment is asked again."""
    until = time.monotonic() + seconds
    while True:
        with suppress(psycopg.Error):
            if it_is_so():
                return
        assert time.monotonic() < until, otherwise()
        time.sleep(0.2)


def children(process: int) -> list[int]:
    """Return the processes that a process has started, those of its threads too."""
    found = []
    for thread in Path(f"/proc/{process}/task").glob("*/children"):
        with suppress(OSError):
            found += [int(number) for number in thread.read_text().split()]
    return found


def kill(process: int, how: signal.Signals = signal.SIGKILL) -> None:
    with suppress(ProcessLookupError):
        os.kill(process, how)
