"""What the pages about a shop on a server tell to type, is typed: each line, in a shop of its own."""

from __future__ import annotations

import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import time
from contextlib import ExitStack, contextmanager, nullcontext
from itertools import groupby
from pathlib import Path
from urllib.request import urlopen

import pytest

from tests.conftest import ROOT
from tests.services.servers import Redis, program, running
from tests.services.shops import Place, new_database

pytestmark = pytest.mark.slow
PAGES = ("move-to-a-server", "back-up-and-restore", "update", "when-redis-is-gone")
STOOD_IN = "postgres://quilter@db.example/quilts"
OPENS = re.compile(r"^(.*)(?:make run|\.venv/bin/python manage\.py (serve|work|tick))$", re.M)
WHO = {"work": "worker", "tick": "tick"}
NO_REDIS = "redis://127.0.0.1:9/0"
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
print(Errand.objects.get(key="sign-ins that are over: once").state)
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
    return OPENS.sub(lambda line: f"{line[1]}exec .venv/bin/python manage.py {line[2] or 'serve'}", block)


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def run(block, env):
    """Run a block that comes to an end."""
    shell = begun(block, env)
    said = shell.communicate(timeout=240)[0]
    assert shell.returncode == 0, f"{block}\n{said}"
    return said


def begun(block, env):
    return subprocess.Popen(
        ["sh", "-euc", block], cwd=ROOT, env=env, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    )


def run_together(blocks, env):
    """Run blocks that open something; all are closed again once each is at work."""
    opened = [begun(block, env) for block in blocks]
    try:
        for block, shell in zip(blocks, opened, strict=True):
            kind = block.split()[-1]
            if kind == "serve":
                assert answers(f"http://127.0.0.1:{env['PORT']}/healthz", shell), block
            else:
                ask = f"{exported_in(block)}.venv/bin/python manage.py pulse {WHO[kind]}"
                assert is_at_work(ask, shell, env), block
    finally:
        for shell in reversed(opened):
            shell.send_signal(signal.SIGTERM)
    said = [shell.communicate(timeout=60)[0] for shell in opened]
    assert all(shell.returncode in (0, -signal.SIGTERM) for shell in opened), said
    return said


def is_at_work(ask, shell, env):
    until = time.monotonic() + 180
    while time.monotonic() < until and shell.poll() is None:
        asked = begun(ask, env)
        asked.communicate(timeout=60)
        if asked.returncode == 0:
            return True
    return False


def exported_in(block):
    return "".join(f"{line}\n" for line in block.splitlines() if line.startswith("export "))


@contextmanager
def a_tick_without_redis(env):
    """Have a tick at work although Redis is gone."""
    tick = subprocess.Popen(
        [sys.executable, "manage.py", "tick"],
        cwd=ROOT,
        env=env | {"REDIS_URL": NO_REDIS},
        stderr=subprocess.DEVNULL,
    )
    try:
        assert is_at_work(".venv/bin/python manage.py pulse tick", tick, env)
        yield
    finally:
        tick.terminate()
        tick.wait(30)


def answers(address, shell):
    until = time.monotonic() + 120
    while time.monotonic() < until and shell.poll() is None:
        try:
            with urlopen(address, timeout=5) as page:
                return page.read() == b"ok\n"
        except OSError:
            time.sleep(0.3)
    return False


def said_by(blocks, env):
    """Return what each block says, run in the order of the page with what the earlier ones have exported."""
    exported, said = "", []
    for opens, group in groupby(blocks, key=lambda block: bool(OPENS.search(block))):
        together = [exported + block for block in group]
        if opens:
            said += run_together(together, env)
        for block in [] if opens else together:
            with a_tick_without_redis(env) if "pulse tick" in block else nullcontext():
                said.append(run(block, env))
        exported = exported_in("\n".join(together))
    return said


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
    with ExitStack() as stack:
        if told == "move-to-a-server":
            shop.more |= at_the_server(postgres, stack.enter_context(running(Redis())))
            database = postgres.url("quilts").replace("//shop@", "//quilter@")
        else:
            database = new_database(postgres)
        stick = tmp_path / "stick"
        blocks = [typed(each, shop=shop, database=database, stick=stick) for each in blocks_of(told)]
        said = said_by(blocks, shop.env())
    assert len(said) >= 3
    if told == "move-to-a-server":
        assert "every hash as it was" in said[3]
        assert "no issues" in said[4]
        assert "Every entry is as it was written." in said[4]
        assert len(said) == 8
    if told == "when-redis-is-gone":
        assert "made to fail" in said[0]
        assert any("is at work" in each for each in said)
        assert "done" in shop.python(STATE)


def at_the_server(postgres, redis):
    """Return what whoever keeps the servers has in the environment."""
    tools = Path(program("createdb", package="postgresql")).parent
    place = {"PGHOST": str(postgres.folder), "PGPORT": str(postgres.port), "PGUSER": "shop"}
    return place | {"PATH": f"{tools}:{os.environ['PATH']}", "REDIS_URL": redis.url}


def test_what_make_run_does_is_what_was_typed_for_it():
    target = re.search(r"^run:.*\n((?:\t.*\n)+)", (ROOT / "Makefile").read_text(), re.M)[1]
    assert target.splitlines()[-1] == "\t@exec .venv/bin/python manage.py serve"
