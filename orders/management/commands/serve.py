"""Open the site: bring the database up to date, gather the static files, start the server."""

from __future__ import annotations

import os
import socket
import sys
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError

from orders.models import Person


class Command(BaseCommand):
    help = "Open the site on HOST and PORT, as `make run` does."

    def handle(self, *args: Any, **options: Any) -> None:
        host, port = settings.HOST, settings.PORT
        refuse_taken_port(host, port)
        call_command("migrate", verbosity=0)
        call_command("collectstatic", interactive=False, verbosity=0)
        address = settings.ADDRESS or f"http://{host}:{port}"
        self.stdout.write(f"Batting Order is at {address}/ (Ctrl-C closes it).")
        if not Person.objects.exists():
            self.stdout.write("Nobody can sign in yet: .venv/bin/python manage.py password YOURNAME")
        self.stdout.flush()
        os.execv(sys.executable, [sys.executable, "-m", "gunicorn", *server_options(host, port)])


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
    """Return one process with four threads: SQLite has one writer, and a shop has a handful of people."""
    bind = f"[{host.strip('[]')}]:{port}" if ":" in host else f"{host}:{port}"
    return [
        "config.wsgi",
        f"--bind={bind}",
        "--worker-class=gthread",
        "--workers=1",
        "--threads=4",
        "--log-level=warning",
        "--no-control-socket",
    ]
