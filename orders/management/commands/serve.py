"""Open the site: back up and update the records, gather the static files, start the server."""

from __future__ import annotations

import io
import os
import socket
import sys
from typing import Any

import segno
from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from orders.door import NEAR
from orders.keep.backup import NoBackup, back_up_by_itself
from orders.models import Person

ANY_ADDRESS = ("0.0.0.0", "::")


EMPTY = "Nobody is in this shop yet. The first page asks whose it is, or opens a made-up one."


class Command(BaseCommand):
    help = "Open the site on HOST and PORT, as `make run` does."

    def handle(self, *args: Any, **options: Any) -> None:
        host, port = settings.HOST, settings.PORT
        refuse_taken_port(host, port)
        if update_is_due():
            self.back_up_first()
        call_command("migrate", verbosity=0)
        call_command("collectstatic", interactive=False, verbosity=0)
        self.stdout.write(welcome(host, port, settings.ADDRESS))
        if not Person.objects.exists():
            self.stdout.write(EMPTY)
        self.stdout.flush()
        os.execv(sys.executable, [sys.executable, "-m", "gunicorn", *server_options(host, port)])

    def back_up_first(self) -> None:
        try:
            archive = back_up_by_itself()
        except (NoBackup, OSError) as reason:
            sentence = f"The records need an update, and no backup of them could be made first: {reason}"
            raise CommandError(sentence) from reason
        self.stdout.write(f"Backed up to {archive.path}, then brought up to date.")


def update_is_due() -> bool:
    """Say whether a shop that has records already is about to be migrated."""
    executor = MigrationExecutor(connection)
    plan = executor.migration_plan(executor.loader.graph.leaf_nodes())
    return bool(plan) and bool(executor.loader.applied_migrations)


def welcome(host: str, port: int, address: str) -> str:
    """Return where the site is, with what a phone's camera opens, or how to let phones in."""
    if address:
        return f"Batting Order is at {address}/ (Ctrl-C closes it).\n{qr_code(address + '/')}"
    here = f"Batting Order is at http://{'127.0.0.1' if host in ANY_ADDRESS else host}:{port}/"
    return f"{here} (Ctrl-C closes it).\n{way_to_phones(port)}"


def way_to_phones(port: int) -> str:
    found = address_in_the_network() or "this computer’s address"
    return f"To open it from a phone in the same network: HOST={found} PORT={port} make run"


def address_in_the_network() -> str:
    """Return this machine's own address towards other networks; nothing is sent to find it."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))
        except OSError:
            return ""
        return probe.getsockname()[0]


def qr_code(text: str) -> str:
    """Return a code for the terminal, or nothing where the terminal cannot show it."""
    drawn = io.StringIO()
    segno.make(text, error="l", micro=False).terminal(out=drawn, compact=True, border=2)
    try:
        drawn.getvalue().encode(sys.stdout.encoding or "ascii")
    except UnicodeEncodeError:
        return ""
    return in_black_and_white(drawn.getvalue()) if sys.stdout.isatty() else drawn.getvalue()


def in_black_and_white(code: str) -> str:
    """Fix the colors of a code, since cameras differ on one that a light terminal turns inside out."""
    return "".join(f"\x1b[97;40m{line}\x1b[0m\n" for line in code.splitlines())


def refuse_taken_port(host: str, port: int) -> None:
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with socket.socket(family) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host.strip("[]"), port))
        except OSError as fault:
            raise CommandError(
                f"Cannot open {host} port {port}: {fault.strerror}. "
                f"Close what uses it, or choose another: PORT={port % 65535 + 1} make run"
            ) from fault


def server_options(host: str, port: int) -> list[str]:
    """Return one process with eight threads: SQLite has one writer, and a shop has a handful of people."""
    bind = f"[{host.strip('[]')}]:{port}" if ":" in host else f"{host}:{port}"
    return [
        "config.wsgi",
        "--config=python:config.server",
        f"--bind={bind}",
        "--worker-class=gthread",
        "--workers=1",
        "--threads=8",
        "--log-level=warning",
        "--no-control-socket",
        *word_of_https(),
    ]


def word_of_https() -> list[str]:
    """Believe a neighbor who says that the request came by https; a container has none on its own address."""
    return [f"--forwarded-allow-ips={','.join(NEAR)}"] if settings.BEHIND_HTTPS else []
