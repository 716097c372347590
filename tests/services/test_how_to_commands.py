"""What the pages about a shop on a server tell to type, is typed: each line, in a shop of its own."""

from __future__ import annotations

import re
import shutil
import signal
import socket
import subprocess
import time
from urllib.request import urlopen

import pytest

from tests.conftest import ROOT
from tests.services.shops import Place, new_database

pytestmark = pytest.mark.slow
PAGES = ("move-to-a-server", "back-up-and-restore", "update", "when-redis-is-gone")
STOOD_IN = "postgres://shop@db.example/shop"
FAILED = """
from orders.background import errands
from orders.models import Errand
Errand.objects.all().delete()  # drawing the photographs of the made-up shop takes minutes
errands.send("sign-ins that are over", key="once")
errands.send("made to fail", key="once")
made = Errand.objects.get(kind="made to fail")
Errand.objects.filter(pk=made.pk).update(id=12)
Errand.objects.filter(pk=12).update(state="failed", lease_until=None)
"""
STATE = """
from orders.models import Errand
print(Errand.objects.get(kind="sign-ins that are over").state)
"""


def blocks_of(page):
    text = (ROOT / "docs" / "how-to" / f"{page}.md").read_text()
    return re.findall(r"```sh\n(.*?)```", text, re.S)


def typed(block, *, shop, database, stick):
    """Return a block with what stands for something else put in its place."""
    block = block.replace(STOOD_IN, f"'{database}'").replace("/media/stick", str(stick))
    for own in (shop.folder / "backups").glob("*.zip"):
        block = re.sub(r"data/backups/\S+\.zip", str(own), block)
    if " restore " in block:  # each of these begins with an empty place
        block = "rm -rf $HOME/restored\n" + block
    # What `make run` does after fetching parts; the last line opens the shop, and the test closes it.
    return re.sub(r"^(.*)make run$", r"\1exec .venv/bin/python manage.py serve", block, flags=re.M)


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def run(block, env):
    """Run a block; one that opens the shop is closed again once it answers."""
    shell = subprocess.Popen(
        ["sh", "-euc", block], cwd=ROOT, env=env, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    )
    if " serve" in block:
        assert answers(f"http://127.0.0.1:{env['PORT']}/healthz", shell)
        shell.send_signal(signal.SIGTERM)
    said = shell.communicate(timeout=240)[0]
    assert shell.returncode in ((0, -signal.SIGTERM) if " serve" in block else (0,)), f"{block}\n{said}"
    return said


def answers(address, shell):
    until = time.monotonic() + 120
    while time.monotonic() < until and shell.poll() is None:
        try:
            with urlopen(address, timeout=5) as page:
                return page.read() == b"ok\n"
        except OSError:
            time.sleep(0.3)
    return False


@pytest.mark.parametrize("told", PAGES)
def test_every_line_of_the_page_does_what_it_says(told, filled, tmp_path, postgres):
    shop = Place(tmp_path / "shop", more={"HOME": str(tmp_path / "home"), "PORT": str(free_port())})
    shutil.copytree(filled.folder, shop.folder)
    for folder in ("home", "stick"):
        (tmp_path / folder).mkdir()
    if told == "back-up-and-restore":
        shop.python("from orders.keep.backup import back_up_by_itself\nback_up_by_itself()")
    if told == "when-redis-is-gone":
        shop.python(FAILED)
    database = new_database(postgres)
    said = [
        run(typed(block, shop=shop, database=database, stick=tmp_path / "stick"), shop.env())
        for block in blocks_of(told)
    ]
    assert len(said) >= 3
    if told == "move-to-a-server":
        assert "every hash as it was" in said[2]
        assert "no issues" in said[3]
        assert "Every entry is as it was written." in said[3]
    if told == "when-redis-is-gone":
        assert "made to fail" in said[0]
        assert "done" in shop.python(STATE)


def test_what_make_run_does_is_what_was_typed_for_it():
    target = re.search(r"^run:.*\n((?:\t.*\n)+)", (ROOT / "Makefile").read_text(), re.M)[1]
    assert target.splitlines()[-1] == "\t@exec .venv/bin/python manage.py serve"
