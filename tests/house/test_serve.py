"""The command behind `make run`, as a shop would start it."""

import os
import re
import signal
import socket
import subprocess
import sys
import time
from http.client import HTTPConnection
from ipaddress import ip_address, ip_network
from urllib.error import URLError
from urllib.request import urlopen

import pytest

from config.environment import address_in_the_network
from orders.management.commands import serve as command
from tests.conftest import ROOT


@pytest.fixture
def port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def serve(folder, port, **settings):
    clean = {name: value for name, value in os.environ.items() if name != "DJANGO_SETTINGS_MODULE"}
    return subprocess.Popen(
        [sys.executable, "manage.py", "serve"],
        cwd=ROOT,
        env=clean | {"DATA_DIR": str(folder), "PORT": str(port), **settings},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )


def read_when_open(address, seconds=90):
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
        assert "Whose shop is this?" in door
        styles = re.findall(r'href="(/static/[^"]+\.css)"', door)
        assert len(styles) >= 5
        for style in styles:
            assert re.search(r"\.[0-9a-f]{12}\.css$", style)
            assert "@layer" in read_when_open(f"http://127.0.0.1:{port}{style}")
    finally:
        site.send_signal(signal.SIGTERM)
        said, _ = site.communicate(timeout=30)
    assert f"Batting Order is at http://127.0.0.1:{port}/" in said
    assert "Nobody is in this shop yet" in said
    assert "To open it from a phone in the same network: HOST=" in said
    assert "█" not in said
    assert (tmp_path / "secret-key").stat().st_mode & 0o077 == 0
    assert (tmp_path / "shop.sqlite3").exists()


def asked_from(neighbor, port, path):
    """Ask as a web server in front does, from an address of its own; return how it is answered."""
    line = HTTPConnection("127.0.0.1", port, timeout=20, source_address=(neighbor, 0))
    line.request("GET", path, headers={"Host": "quilts.example", "X-Forwarded-Proto": "https"})
    answer = line.getresponse()
    line.close()
    return answer.status, answer.headers["Location"]


@pytest.mark.slow
def test_a_web_server_in_front_is_believed_that_the_request_came_by_https_wherever_near_it_stands(
    tmp_path, port
):
    site = serve(tmp_path, port, ADDRESS="https://quilts.example")
    try:
        read_when_open(f"http://127.0.0.1:{port}/healthz")
        for neighbor in ("127.0.0.1", "127.0.0.2"):
            assert asked_from(neighbor, port, "/set-up/owner/") == (200, None)
    finally:
        site.send_signal(signal.SIGTERM)
        site.communicate(timeout=30)


@pytest.mark.parametrize(
    ("peer", "believed"),
    [("172.18.0.1", True), ("10.0.0.4", True), ("fd00::4", True), ("203.0.113.9", False), ("8.8.8.8", False)],
)
def test_a_container_believes_its_neighbor_and_nobody_from_outside(settings, peer, believed):
    settings.BEHIND_HTTPS = True
    (told,) = [word for word in command.server_options("0.0.0.0", 8000) if "forwarded" in word]
    networks = map(ip_network, told.partition("=")[2].split(","))
    assert any(ip_address(peer) in network for network in networks) is believed
    settings.BEHIND_HTTPS = False
    assert not [word for word in command.server_options("0.0.0.0", 8000) if "forwarded" in word]


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


def test_with_an_address_a_camera_can_open_it():
    said = command.welcome("192.0.2.7", 8000, "http://192.0.2.7:8000")
    first, *code = said.splitlines()
    assert first == "Batting Order is at http://192.0.2.7:8000/ (Ctrl-C closes it)."
    # 22 letters at the lowest correction need version 2 (ISO/IEC 18004): 25 modules, 2 more on each side.
    assert len(code) == -(-(25 + 4) // 2)
    assert {len(line) for line in code} == {25 + 4}
    assert set("".join(code)) == set("█▀▄ ")


def test_a_terminal_without_such_signs_gets_the_address_alone(monkeypatch):
    class Plain:
        encoding = "ascii"

    monkeypatch.setattr(command.sys, "stdout", Plain())
    assert command.welcome("", 8000, "https://quilts.example").splitlines() == [
        "Batting Order is at https://quilts.example/ (Ctrl-C closes it)."
    ]


@pytest.mark.parametrize(
    ("host", "address"),
    [
        ("192.0.2.7", "http://192.0.2.7:8000"),
        ("2001:db8::7", "http://[2001:db8::7]:8000"),
        ("127.0.0.1", ""),
        ("localhost", ""),
        ("0.0.0.0", ""),
        ("::", ""),
    ],
)
def test_a_host_in_the_network_is_the_address_for_phones(host, address):
    assert address_in_the_network(host, 8000) == address


def test_a_backup_that_cannot_be_made_stops_the_update(monkeypatch):
    def full():
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(command, "back_up_by_itself", full)
    with pytest.raises(command.CommandError, match="no backup of them could be made first"):
        command.Command().back_up_first()
