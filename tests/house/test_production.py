"""The settings of a shop on a server, as the program itself checks them in a process of its own."""

from __future__ import annotations

import os
import secrets
import subprocess
import sys

import pytest

from tests.conftest import ROOT

OURS = (
    "DJANGO_SETTINGS_MODULE",
    "DATABASE_URL",
    "REDIS_URL",
    "HOST",
    "PORT",
    "DEBUG",
    "DJANGO_ALLOW_ASYNC_UNSAFE",
)


def check(folder, **settings):
    clean = {name: value for name, value in os.environ.items() if name not in OURS}
    return subprocess.run(
        [sys.executable, "manage.py", "check", "--deploy", "--fail-level", "WARNING"],
        cwd=ROOT, env=clean | {"DATA_DIR": str(folder)} | settings,
        capture_output=True, text=True, timeout=120, check=False,
    )  # fmt: skip


@pytest.mark.slow
def test_a_shop_on_a_server_is_opened_without_a_warning(tmp_path):
    done = check(tmp_path, ADDRESS="https://quilts.example", SECRET_KEY=secrets.token_urlsafe(40))
    assert done.returncode == 0, done.stderr
    assert "no issues" in done.stdout
    assert "(1 silenced)" in done.stdout  # the browsers' built-in list, which the owner of a domain decides


@pytest.mark.slow
@pytest.mark.parametrize(
    ("settings", "named"),
    [
        ({"ADDRESS": "http://quilts.example"}, "security.W016"),
        ({"ADDRESS": "https://quilts.example", "SECRET_KEY": "too-short"}, "orders.E002"),
        ({"ADDRESS": "https://quilts.example", "DEBUG": "1"}, "orders.E003"),
    ],
)
def test_one_setting_that_would_hurt_is_named(tmp_path, settings, named):
    done = check(tmp_path, SECRET_KEY=settings.pop("SECRET_KEY", secrets.token_urlsafe(40)), **settings)
    assert done.returncode != 0
    assert named in done.stderr


def test_with_an_https_address_a_plain_request_is_sent_on_to_it(settings, client, db):
    settings.SECURE_SSL_REDIRECT = True
    answer = client.get("/sign-in/?next=/quilts/")
    assert (answer.status_code, answer["Location"]) == (301, "https://testserver/sign-in/?next=/quilts/")
    assert client.get("/healthz").status_code == 200  # asked on the machine itself
    assert client.get("/sign-in/", secure=True).status_code == 302


@pytest.mark.django_db
@pytest.mark.parametrize(
    "path",
    [".git/config", "static/../manage.py", "manage.py", "data/secret-key", "secret-key", "shop.sqlite3",
     "static/..%2f..%2fsecret-key", "static/%2e%2e/secret-key", "photos/../secret-key"],
)  # fmt: skip
def test_nothing_of_the_program_or_the_data_can_be_fetched(client, ada, path):
    client.force_login(ada)
    assert client.get(f"/{path}").status_code == 404
