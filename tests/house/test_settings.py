"""Settings follow from where the shop can be reached."""

import json
import os
import subprocess
import sys

import pytest
from django.core.checks import run_checks
from django.db import connection

from tests.conftest import ROOT

SHOW = """
import json
from config import settings
names = ("SESSION_COOKIE_NAME", "CSRF_COOKIE_NAME", "SESSION_COOKIE_SECURE", "CSRF_COOKIE_SECURE",
         "SECURE_HSTS_SECONDS", "ALLOWED_HOSTS", "CSRF_TRUSTED_ORIGINS")
print(json.dumps({name: getattr(settings, name) for name in names}))
"""


def settings_with(folder, **environment):
    clean = {name: value for name, value in os.environ.items() if name not in ("ADDRESS", "DEBUG")}
    clean |= {"DATA_DIR": str(folder), **environment}
    done = subprocess.run(
        [sys.executable, "-c", SHOW], cwd=ROOT, env=clean, capture_output=True, text=True, check=True
    )
    return json.loads(done.stdout)


def test_cookies_are_tied_to_the_host_exactly_when_the_address_is_https(tmp_path):
    safe = settings_with(tmp_path, ADDRESS="https://quilts.example")
    assert (safe["SESSION_COOKIE_NAME"], safe["CSRF_COOKIE_NAME"]) == ("__Host-session", "__Host-csrf")
    assert safe["SESSION_COOKIE_SECURE"] is safe["CSRF_COOKIE_SECURE"] is True
    assert safe["SECURE_HSTS_SECONDS"] > 0

    plain = settings_with(tmp_path, ADDRESS="http://192.0.2.7:8000")
    assert (plain["SESSION_COOKIE_NAME"], plain["CSRF_COOKIE_NAME"]) == ("session", "csrf")
    assert plain["SESSION_COOKIE_SECURE"] is plain["CSRF_COOKIE_SECURE"] is False
    assert plain["SECURE_HSTS_SECONDS"] == 0


def test_only_this_machine_and_the_address_are_answered(tmp_path):
    named = settings_with(tmp_path, ADDRESS="http://192.0.2.7:8000")
    assert named["ALLOWED_HOSTS"] == ["localhost", "127.0.0.1", "[::1]", "192.0.2.7"]
    assert named["CSRF_TRUSTED_ORIGINS"] == ["http://192.0.2.7:8000"]
    assert settings_with(tmp_path)["CSRF_TRUSTED_ORIGINS"] == []


def faults():
    return {fault.id: fault.hint for fault in run_checks() if fault.id.startswith("orders.")}


def test_sound_settings_raise_no_word():
    assert faults() == {}


@pytest.mark.parametrize(
    ("changed", "fault"),
    [
        ({"SECRET_KEY": "short"}, "orders.E002"),
        ({"HOST": "0.0.0.0"}, "orders.W001"),
        ({"HOST": "quilts.example"}, "orders.W001"),
        ({"DEBUG": True, "ADDRESS": "https://quilts.example"}, "orders.E003"),
        ({"DATA_DIR": "/no/such/folder"}, "orders.E001"),
    ],
)
def test_a_setting_that_would_hurt_is_named_with_what_to_do(settings, changed, fault):
    for name, value in changed.items():
        setattr(settings, name, value)
    assert list(faults()) == [fault]
    assert faults()[fault]


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("pragma", "value"),
    [("journal_mode", "wal"), ("synchronous", 2), ("foreign_keys", 1), ("busy_timeout", 20000)],
)
def test_every_connection_keeps_what_was_acknowledged(pragma, value):
    with connection.cursor() as cursor:
        cursor.execute(f"PRAGMA {pragma}")
        assert cursor.fetchone()[0] == value
