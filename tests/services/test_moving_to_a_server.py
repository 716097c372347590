"""A shop goes from its file onto a PostgreSQL server: all of it, or nothing."""

from __future__ import annotations

import shutil
import signal
import subprocess
import sys
import time

import pytest

from tests.conftest import ROOT
from tests.orders.shop_folder import hashes
from tests.services.shops import Place, new_database

pytestmark = pytest.mark.slow


@pytest.fixture
def laptop(filled, tmp_path):
    """Return a shop of its own in a file."""
    shutil.copytree(filled.folder, tmp_path / "shop")
    return Place(tmp_path / "shop")


@pytest.fixture
def on_server(laptop, postgres):
    """Return the same folder with an empty database."""
    return Place(laptop.folder, new_database(postgres))


def rows_on(place):
    return place.python(
        "from orders.models import Order, Person\nprint(Order.objects.count(), Person.objects.count())"
    )


def test_every_row_seal_photo_and_number_is_as_it_was(laptop, on_server, tmp_path):
    before, files = laptop.told(), hashes(laptop.folder)
    said = laptop.manage("move_to", on_server.database, "--files", tmp_path / "files")
    assert "every hash as it was" in said
    after = on_server.told()
    assert after == before
    assert len(before["hashes"]) > 50
    assert before["faults"] == []
    assert hashes(tmp_path / "files") == files == hashes(laptop.folder)
    assert len(files) >= 4
    assert "Every entry is as it was written." in on_server.manage("verify_ledger")
    assert "shop moved on" in on_server.python(
        "from orders.models import Event, Order\n"
        "Event.objects.note('shop moved on', by=None)\n"
        "from django.db import connection\n"
        "Event.objects.note('again', by=None)\n"
        "print(Event.objects.order_by('-pk')[1].what)"
    )


def test_the_guards_stand_on_the_other_side(laptop, on_server):
    laptop.manage("move_to", on_server.database)
    said = on_server.python(
        "from django.db import DatabaseError, connection\n"
        "for change in ('UPDATE orders_posting SET minor = 1', 'DELETE FROM orders_entry',\n"
        "               'TRUNCATE orders_seal CASCADE'):\n"
        "    try:\n"
        "        connection.cursor().execute(change)\n"
        "        print('CHANGED')\n"
        "    except DatabaseError as fault:\n"
        "        print(fault)\n"
    )
    assert "CHANGED" not in said
    assert said.count("Money that is written down stays") == 3


def test_the_file_that_was_left_says_so_and_is_not_opened_by_mistake(laptop, on_server):
    laptop.manage("move_to", on_server.database)
    assert "was moved to a server" in laptop.manage("check", well=False)
    assert "Set DATABASE_URL" in laptop.manage("serve", well=False)
    on_server.manage("check")


def test_a_database_that_holds_a_shop_is_refused_and_left_as_it_is(laptop, on_server):
    laptop.manage("move_to", on_server.database)
    before = on_server.told()
    (laptop.folder / "moved-to-a-server").unlink()
    assert "already holds a shop" in laptop.manage("move_to", on_server.database, well=False)
    assert on_server.told() == before


def test_a_shop_that_is_open_is_not_moved(laptop, on_server):
    import socket

    with socket.socket() as door:
        door.bind(("127.0.0.1", 0))
        door.listen()
        open_shop = Place(laptop.folder, more={"PORT": str(door.getsockname()[1])})
        assert "Close the shop" in open_shop.manage("move_to", on_server.database, well=False)


def test_where_to_has_to_be_said(laptop, tmp_path, postgres):
    assert "Say where to" in laptop.manage("move_to", well=False)
    assert "Nothing was moved" in Place(tmp_path / "none", new_database(postgres)).manage(
        "move_to", well=False
    )
    assert "does not begin with postgres://" in laptop.manage("move_to", "mysql://shop@here/shop", well=False)


def test_a_ledger_that_was_tampered_with_is_named_and_stays_behind(laptop, on_server):
    import sqlite3
    from contextlib import closing

    with closing(sqlite3.connect(laptop.folder / "shop.sqlite3")) as records, records:
        records.execute("DROP TRIGGER orders_posting_no_update")
        records.execute(
            "UPDATE orders_posting SET minor = minor + 1 WHERE id = (SELECT min(id) FROM orders_posting)"
        )
    assert "not as it was written" in laptop.manage("move_to", on_server.database, well=False)
    assert rows_on(on_server).split() == ["0", "0"]


def test_cut_off_at_any_moment_the_server_has_no_shop_and_it_can_be_done_again(laptop, on_server):
    words = [sys.executable, "manage.py", "move_to"]
    ended = []
    for step in ("Tables", "Records", "Every row is compared"):
        moving = subprocess.Popen(
            words, cwd=ROOT, env=on_server.env(), stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
        )
        for line in moving.stdout:
            if line.startswith(step):
                time.sleep(0.05)
                break
        moving.send_signal(signal.SIGKILL)
        ended.append(moving.wait(30))
        moving.stdout.close()
    assert ended == [-signal.SIGKILL] * 3
    assert not (laptop.folder / "moved-to-a-server").exists()
    before = laptop.told()
    on_server.manage("move_to")
    assert on_server.told() == before
