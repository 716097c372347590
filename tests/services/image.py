"""What the Dockerfile makes, made without Docker: files, packages, and an account without rights.

It does not show what the image begins with, nor the packages of Debian in it.
"""

from __future__ import annotations

import fnmatch
import os
import re
import shlex
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from tests.conftest import ROOT
from tests.services.servers import as_nobody

VERSION = "import sys; print(sys.version_info[:2])"
COPIED = ["requirements-server.lock .", ". ."]


def lines(instruction: str) -> list[str]:
    """Return what the Dockerfile says after an instruction, each time."""
    text = (ROOT / "Dockerfile").read_text().replace("\\\n", " ")
    return re.findall(rf"^{instruction} (.*)$", text, re.M)


def left_out(folder: str, names: list[str]) -> set[str]:
    """Return what .dockerignore keeps out of the image."""
    found: set[str] = set()
    for pattern in (ROOT / ".dockerignore").read_text().split():
        everywhere = pattern.startswith("**/")
        if everywhere or Path(folder) == ROOT:
            found |= set(fnmatch.filter(names, pattern.removeprefix("**/")))
    return found


def open_to_all() -> tuple[str, dict[str, Any]]:
    """Return a Python like this one, and what makes a process give up root where that Python lets it."""
    for each in (Path(sys.executable).resolve(), Path("/usr/local/bin/python3"), Path("/usr/bin/python3")):
        try:
            said = subprocess.run(
                [each, "-c", VERSION], capture_output=True, text=True, cwd="/", check=True, **as_nobody()
            )
        except (OSError, subprocess.CalledProcessError):
            continue
        if said.stdout.strip() == str(sys.version_info[:2]):
            return str(each), as_nobody()
    return sys.executable, {}


class Image:
    """The program as it lies in the image, and the Python that has what the image has."""

    def __init__(self, folder: Path) -> None:
        base, self.account = open_to_all()
        self.program, self.python = folder / "shop", str(folder / "python" / "bin" / "python")
        self.compiled = folder / "compiled"
        self.compiled.mkdir()
        self.compiled.chmod(0o777)
        shutil.copytree(ROOT, self.program, ignore=left_out)
        self._run(_uv("venv", "--quiet", "--python", base, str(folder / "python")))
        for command in lines("RUN"):
            self._do(shlex.split(command))

    def _do(self, words: list[str]) -> None:
        """Do a step of the Dockerfile, but for those that ask for a whole system."""
        if words[0] == "pip":
            rest = [word for word in words[1:] if word != "--no-cache-dir"]
            self._run(_uv("pip", *rest, "--quiet", "--system-certs", "--python", self.python))
        elif words[0] == "python":
            self._run([self.python, *words[1:]])

    def _run(self, command: list[str]) -> None:
        done = subprocess.run(command, cwd=self.program, capture_output=True, text=True, check=False)
        assert done.returncode == 0, done.stdout + done.stderr


def _uv(*words: str) -> list[str]:
    return [str(Path(sys.prefix) / "bin" / "uv"), *words]


@contextmanager
def image() -> Iterator[Image]:
    """Have an image for as long as the block takes."""
    assert lines("COPY") == COPIED
    folder = Path(tempfile.mkdtemp(prefix="batting-image-"))
    folder.chmod(0o755)
    try:
        yield Image(folder)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def environment(made: Image) -> dict[str, str]:
    """Return what a process in it has beside its service's own; what is compiled goes where it may write."""
    return {"PATH": os.environ["PATH"], "PYTHONPYCACHEPREFIX": str(made.compiled)}
