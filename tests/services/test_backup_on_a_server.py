"""A backup made while others write goes back, into a file or onto a server, as the shop was at one moment."""

from __future__ import annotations

import shutil
import signal
import subprocess
import sys
from contextlib import closing, contextmanager

import psycopg
import pytest

from tests.conftest import ROOT
from tests.orders.shop_folder import hashes
from tests.services.shops import Place, new_database, server
from tests.services.whole_site import wait_until

pytestmark = pytest.mark.slow
WRITE = """
import django
django.setup()
from django.db import transaction
from orders.background import errands
from orders.models import Event
print("writing", flush=True)
while True:
    with transaction.atomic():
        event = Event.objects.note("written under load", by=None)
        errands.send("load", key=str(event.pk))
"""
COUNT = """
from orders.models import Errand, Event
print(Event.objects.filter(what="written under load").count(), Errand.objects.filter(kind="load").count())
"""
WAITS = "SELECT 1 FROM pg_stat_activity WHERE wait_event_type = 'Lock'"


@pytest.fixture(params=["in a file", "on a server"])
def shop(request, filled, tmp_path, postgres):
    """Return the same shop, kept in a file or on a server."""
    place = Place(tmp_path / "shop")
    shutil.copytree(filled.folder, place.folder)
    if request.param == "on a server":
        place = Place(place.folder, new_database(postgres))
        place.manage("move_to")
        (place.folder / "shop.sqlite3").unlink()
    return place


@pytest.fixture(params=["into a file", "onto a server"])
def empty(request, tmp_path, postgres):
    """Return an empty place of either kind."""
    (tmp_path / "elsewhere").mkdir()
    return Place(tmp_path / "elsewhere", new_database(postgres) if "server" in request.param else "")


@contextmanager
def written_to(shop):
    """Have two others write all the while."""
    begin = [sys.executable, "-c", WRITE]
    writers = [
        subprocess.Popen(begin, cwd=ROOT, env=shop.env(), stdout=subprocess.PIPE, text=True) for _ in range(2)
    ]
    try:
        for writer in writers:
            assert writer.stdout.readline() == "writing\n"
        yield
        assert [writer.poll() for writer in writers] == [None, None]
    finally:
        for writer in writers:
            writer.kill()
            writer.wait()
            writer.stdout.close()


def test_what_is_restored_is_of_one_moment_and_equals_its_source(shop, empty, tmp_path):
    file = tmp_path / "shop.zip"
    with written_to(shop):
        before = int(shop.python(COUNT).split()[0])
        assert "sealed" in shop.manage("backup", file)
    empty.manage("restore", file)
    events, sent = map(int, empty.python(COUNT).split())
    assert events == sent >= before > 0
    assert "Every entry is as it was written." in empty.manage("verify_ledger")
    assert hashes(empty.folder) == hashes(shop.folder)
    assert len(hashes(empty.folder)) >= 4

    still, back = tmp_path / "still.zip", Place(tmp_path / "back")
    back.folder.mkdir()
    shop.manage("backup", still)
    back.manage("restore", still)
    told, there = shop.told(), back.told()
    assert there["seal"] == told["seal"]
    differ = {name for name in told["hashes"] if told["hashes"][name] != there["hashes"][name]}
    assert differ <= {"orders_mail"}  # one that waited goes again only by another tap
    assert len(told["hashes"]) == len(there["hashes"]) > 50


def test_a_server_that_holds_a_shop_is_left_as_it_is(shop, tmp_path, postgres):
    file, place = tmp_path / "shop.zip", Place(tmp_path / "place", new_database(postgres))
    place.folder.mkdir()
    shop.manage("backup", file)
    place.manage("restore", file)
    before = place.told()
    other = Place(tmp_path / "other", place.database)
    other.folder.mkdir()
    assert "already holds a shop" in other.manage("restore", file, well=False)
    assert place.told() == before
    assert hashes(other.folder) == {}


def line_to(postgres, place):
    return psycopg.connect(place.database.partition("?")[0], host=str(postgres.folder))


def test_a_server_that_gives_up_in_the_middle_leaves_an_empty_place_that_can_be_filled_again(
    filled, tmp_path
):
    file = tmp_path / "shop.zip"
    filled.manage("backup", file)
    (tmp_path / "place").mkdir()
    with server() as own:
        place = Place(tmp_path / "place", new_database(own))
        place.manage("migrate", "-v0")
        with closing(line_to(own, place)) as other, closing(line_to(own, place)) as asking:
            asking.autocommit = True
            other.execute("LOCK TABLE orders_shop IN SHARE MODE")  # so that it is caught in the middle
            restoring = subprocess.Popen(
                [sys.executable, "manage.py", "restore", str(file)],
                cwd=ROOT, env=place.env(), stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
            )  # fmt: skip
            wait_until(lambda: asking.execute(WAITS).fetchone(), seconds=120, otherwise=lambda: WAITS)
            own.stop(signal.SIGQUIT)
            said = restoring.communicate(timeout=60)[0]
        assert "The database gave up" in said
        assert "Traceback" not in said
        assert hashes(place.folder) == {}
        own.start()
        place.manage("restore", file)
        assert hashes(place.folder) == hashes(filled.folder)


def test_a_restored_shop_goes_on_numbering(shop, empty, tmp_path):
    file = tmp_path / "shop.zip"
    shop.manage("backup", file)
    empty.manage("restore", file)
    said = empty.python("from orders.models import Event\nprint(Event.objects.note('goes on', by=None).what)")
    assert "goes on" in said
