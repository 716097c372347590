"""A PostgreSQL and a Redis of the tests' own, on loopback, in a folder that goes with them.

`python -m tests.services.servers COMMAND…` runs a command beside both and ends them after it.
"""

from __future__ import annotations

import os
import pwd
import secrets
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

NOBODY = "nobody"  # PostgreSQL refuses to run as root
ROOM = 2 * 1024**3  # bytes: a folder in memory is taken only when this much is free in it
PATIENCE = 30  # seconds


class NotInstalled(Exception):
    """A server of this machine's packages that is missing; the text says which package has it."""


def program(name: str, *, package: str) -> str:
    """Return where a server's program is; of several PostgreSQLs the newest."""
    kept = sorted(Path("/usr/lib/postgresql").glob(f"*/bin/{name}"), key=lambda path: int(path.parts[4]))
    found = str(kept[-1]) if kept else shutil.which(name)
    if not found:
        raise NotInstalled(f"{name} is not here: sudo apt-get install {package}")
    return found


def missing() -> list[str]:
    """Return a sentence for each server that is not installed."""
    sentences = []
    for name, package in [("postgres", "postgresql"), ("redis-server", "redis-server")]:
        try:
            program(name, package=package)
        except NotInstalled as fault:
            sentences.append(str(fault))
    return sentences


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def own_folder(prefix: str) -> Path:
    """Return a new folder of the account the server runs as, in memory where there is room for it."""
    memory = Path("/dev/shm")
    in_memory = memory.is_dir() and shutil.disk_usage(memory).free > ROOM
    folder = Path(tempfile.mkdtemp(prefix=prefix, dir=memory if in_memory else None))
    if os.getuid() == 0:
        account = pwd.getpwnam(NOBODY)
        os.chown(folder, account.pw_uid, account.pw_gid)
    return folder


def as_nobody() -> dict[str, Any]:
    """Return what makes a child process give up root, where it has it."""
    if os.getuid() != 0:
        return {}
    account = pwd.getpwnam(NOBODY)
    return {"user": account.pw_uid, "group": account.pw_gid, "extra_groups": []}


class Server:
    """A server process that can be ended kindly or not, and started anew on what it kept."""

    process: subprocess.Popen[bytes] | None = None

    def __init__(self, name: str) -> None:
        self.port = free_port()
        self.password = secrets.token_urlsafe(12)
        self.folder = own_folder(f"batting-{name}-")

    def command(self) -> list[str]:
        raise NotImplementedError

    def answers(self) -> bool:
        raise NotImplementedError

    def start(self) -> None:
        """Start it and wait until it answers."""
        with open(self.folder / "log", "ab") as log:
            self.process = subprocess.Popen(
                self.command(), stdout=log, stderr=log, cwd="/", start_new_session=True, **as_nobody()
            )
        until = time.monotonic() + PATIENCE
        while not self.answers():
            if self.process.poll() is not None or time.monotonic() > until:
                raise RuntimeError((self.folder / "log").read_text(errors="replace")[-2000:])
            time.sleep(0.05)

    def stop(self, how: signal.Signals = signal.SIGTERM) -> None:
        """End it by a signal and wait until it is gone."""
        if self.process is None:
            return
        self.process.send_signal(how)
        self.process.wait(PATIENCE)
        self.process = None

    def throw_away(self) -> None:
        with suppress(ProcessLookupError):
            self.stop(signal.SIGKILL if isinstance(self, Redis) else signal.SIGINT)
        shutil.rmtree(self.folder, ignore_errors=True)


class PostgreSQL(Server):
    """A cluster with the durability that the site asks for: only the folder may be in memory."""

    letters = ("--encoding=UTF8", "--locale=C.UTF-8")

    def __init__(self) -> None:
        super().__init__("postgres")
        (self.folder / "password").write_text(self.password)
        subprocess.run(
            [
                *(program("initdb", package="postgresql"), "--pgdata", str(self.folder / "cluster")),
                *("--username=shop", f"--pwfile={self.folder / 'password'}", "--auth-local=trust"),
                *("--auth-host=scram-sha-256", *self.letters, "--no-sync"),
            ],
            check=True, capture_output=True, cwd="/", **as_nobody(),
        )  # fmt: skip

    def command(self) -> list[str]:
        told = {
            "listen_addresses": "127.0.0.1",
            "port": str(self.port),
            "unix_socket_directories": str(self.folder),
            "dynamic_shared_memory_type": "mmap",
        }
        options = [f"--{name}={value}" for name, value in told.items()]
        return [program("postgres", package="postgresql"), "-D", str(self.folder / "cluster"), *options]

    def answers(self) -> bool:
        ready = [
            program("pg_isready", package="postgresql"),
            "-q",
            "-h",
            str(self.folder),
            "-p",
            str(self.port),
        ]
        return subprocess.run(ready, check=False).returncode == 0

    def make_database(self, name: str) -> None:
        """Make an empty database."""
        place = ["-h", str(self.folder), "-p", str(self.port), "-U", "shop"]
        subprocess.run([program("createdb", package="postgresql"), *place, name], check=True, cwd="/")

    def url(self, database: str = "postgres") -> str:
        """Return its address by the socket, as DATABASE_URL has it."""
        return f"postgres://shop@:{self.port}/{database}?host={self.folder}"


class Redis(Server):
    """A Redis that keeps nothing, so that starting it anew also empties it."""

    def __init__(self) -> None:
        super().__init__("redis")

    def command(self) -> list[str]:
        return [
            program("redis-server", package="redis-server"),
            *("--port", str(self.port), "--bind", "127.0.0.1", "--requirepass", self.password),
            *("--save", "", "--appendonly", "no", "--dir", str(self.folder)),
        ]

    def answers(self) -> bool:
        return self._told("PING")

    def empty(self) -> None:
        """Forget everything, as after `FLUSHALL`."""
        assert self._told("FLUSHALL")

    def _told(self, command: str) -> bool:
        with suppress(OSError), socket.create_connection(("127.0.0.1", self.port), timeout=5) as line:
            line.sendall(f"AUTH {self.password}\r\n{command}\r\nQUIT\r\n".encode())
            said = b""
            while part := line.recv(100):
                said += part
            return said.count(b"+") == 3
        return False

    @property
    def url(self) -> str:
        return f"redis://:{self.password}@127.0.0.1:{self.port}/0"


@contextmanager
def running(server: Server) -> Iterator[Server]:
    """Have a server for as long as the block takes."""
    try:
        server.start()
        yield server
    finally:
        server.throw_away()


def main(command: list[str]) -> int:
    """Run a command with TEST_DATABASE_URL and TEST_REDIS_URL naming servers of its own."""
    if sentences := missing():
        print("The tests on PostgreSQL and Redis cannot run here.", *sentences, sep="\n")
        return 1 if os.environ.get("CI") == "true" else 0
    postgres, redis = PostgreSQL(), Redis()
    with running(postgres), running(redis):
        named = {"TEST_DATABASE_URL": postgres.url(), "TEST_REDIS_URL": redis.url}
        return subprocess.run(command, env=os.environ | named, check=False).returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
