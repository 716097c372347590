"""A server that could lose what was acknowledged is refused at the start, in words."""

import os
import subprocess
import sys
import threading

import pytest
from django.core.exceptions import ImproperlyConfigured

from config import environment
from config.postgres import on_a_server
from tests.conftest import ROOT
from tests.services.shops import new_database, server

pytestmark = [pytest.mark.slow, pytest.mark.django_db]


@pytest.fixture(scope="module")
def postgres():
    with server() as running:
        yield running


@pytest.fixture
def database(postgres):
    return new_database(postgres)


def told(postgres, statement):
    import psycopg

    with psycopg.connect(
        host=str(postgres.folder), port=postgres.port, user="shop", dbname="postgres", autocommit=True
    ) as line:
        line.execute(statement)


def opened(database, monkeypatch):
    from django.db import connection

    from config.postgres.base import DatabaseWrapper

    monkeypatch.setenv("DATABASE_URL", database)
    place = on_a_server(environment.postgres("DATABASE_URL"))
    return DatabaseWrapper({**connection.settings_dict, **place}, "another")


def test_a_careful_server_is_taken(database, monkeypatch):
    wrapper = opened(database, monkeypatch)
    wrapper.connect()
    wrapper.close()


@pytest.mark.parametrize(("name", "value"), [("synchronous_commit", "off"), ("synchronous_commit", "local")])
def test_a_database_that_does_not_wait_for_the_disk_is_refused(postgres, database, monkeypatch, name, value):
    short = database.split("/")[3].split("?")[0]
    told(postgres, f'ALTER DATABASE "{short}" SET {name} = {value}')
    with pytest.raises(ImproperlyConfigured, match=f"{name} is {value}, not on.*ALTER DATABASE"):
        opened(database, monkeypatch).connect()


@pytest.mark.parametrize("name", ["fsync", "full_page_writes"])
def test_a_server_that_does_not_reach_the_disk_is_refused_at_the_start(postgres, database, name, tmp_path):
    told(postgres, f"ALTER SYSTEM SET {name} = off")
    told(postgres, "SELECT pg_reload_conf()")
    try:
        for _ in range(20):  # the server reads its settings a moment later
            done = manage("migrate", database, tmp_path)
            if done.returncode:
                break
    finally:
        told(postgres, f"ALTER SYSTEM RESET {name}")
        told(postgres, "SELECT pg_reload_conf()")
    assert f"could lose what was acknowledged: {name} is off, not on" in done.stderr


def manage(command, database, folder):
    clean = {name: value for name, value in os.environ.items() if not name.startswith("DJANGO")}
    clean |= {"DATABASE_URL": database, "DATA_DIR": str(folder)}
    return subprocess.run(
        [sys.executable, "manage.py", command, "--check"],
        cwd=ROOT, env=clean, capture_output=True, text=True, check=False,
    )  # fmt: skip


def test_one_writes_at_a_time_and_the_next_sees_what_the_first_wrote(database, monkeypatch):
    first, second = opened(database, monkeypatch), opened(database, monkeypatch)
    with first.cursor() as cursor:
        cursor.execute("CREATE TABLE counted (number int)")
    first.set_autocommit(False)
    order = []

    def write_second():
        second.set_autocommit(False)
        with second.cursor() as cursor:
            cursor.execute("SELECT count(*) FROM counted")
            order.append(("second saw", cursor.fetchone()[0]))
        second.commit()
        second.close()

    thread = threading.Thread(target=write_second)
    second.inc_thread_sharing()
    thread.start()
    thread.join(0.5)
    with first.cursor() as cursor:
        cursor.execute("INSERT INTO counted VALUES (1)")
    order.append(("first wrote", 1))
    first.commit()
    thread.join(10)
    first.close()
    assert order == [("first wrote", 1), ("second saw", 1)]


def test_whoever_waits_for_the_turn_in_vain_can_ask_again(database, monkeypatch):
    from django.db import OperationalError

    first, second = opened(database, monkeypatch), opened(database, monkeypatch)
    second.ensure_connection()
    second.connection.execute("SET lock_timeout = 100")
    first.set_autocommit(False)
    with pytest.raises(OperationalError, match="lock timeout"):
        second.set_autocommit(False)
    first.rollback()
    second.set_autocommit(False)
    second.rollback()
    for each in (first, second):
        each.close()
