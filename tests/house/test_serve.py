"""The command behind `make run`, as a shop would start it."""

import os
import re
import signal
import socket
import subprocess
import sys
import time
from urllib.error import URLError
from urllib.request import urlopen

import pytest

from tests.conftest import ROOT


@pytest.fixture
def port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def serve(folder, port):
    clean = {name: value for name, value in os.environ.items() if name != "DJANGO_SETTINGS_MODULE"}
    return subprocess.Popen(
        [sys.executable, "manage.py", "serve"],
        cwd=ROOT,
        env=clean | {"DATA_DIR": str(folder), "PORT": str(port)},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )


def read_when_open(address, seconds=30):
    until = time.monotonic() + seconds
    while True:
        try:
            with urlopen(address, timeout=5) as page:
                return page.read().decode()
        except URLError:
            if time.monotonic() > until:
                raise
            time.sleep(0.1)


@pytest.mark.slow
def test_the_site_opens_in_an_empty_folder_with_its_styles_and_keeps_its_secret(tmp_path, port):
    site = serve(tmp_path, port)
    try:
        assert read_when_open(f"http://127.0.0.1:{port}/healthz") == "ok\n"
        door = read_when_open(f"http://127.0.0.1:{port}/")
        assert "manage.py password YOURNAME" in door
        styles = re.findall(r'href="(/static/[^"]+\.css)"', door)
        assert len(styles) >= 5
        for style in styles:
            assert re.search(r"\.[0-9a-f]{12}\.css$", style)
            assert "@layer" in read_when_open(f"http://127.0.0.1:{port}{style}")
    finally:
        site.send_signal(signal.SIGTERM)
        said, _ = site.communicate(timeout=30)
    assert f"Batting Order is at http://127.0.0.1:{port}/" in said
    assert "Nobody can sign in yet" in said
    assert (tmp_path / "secret-key").stat().st_mode & 0o077 == 0
    assert (tmp_path / "shop.sqlite3").exists()


@pytest.mark.slow
def test_a_port_that_is_taken_is_said_plainly(tmp_path):
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        site = serve(tmp_path, port)
        said, _ = site.communicate(timeout=60)
    assert site.returncode == 1
    assert f"Cannot open 127.0.0.1 port {port}: Address already in use." in said
    assert "PORT=" in said
    assert "Traceback" not in said
