"""The lock files say exactly what is installed, and nothing of where it was fetched."""

import re

import pytest

from tests.conftest import ROOT

LOCKS = ["requirements.lock", "requirements-server.lock", "requirements-dev.lock"]


def pins(lock):
    """Return each package's versions, with the hashes beside them, as the lock has them."""
    text = (ROOT / lock).read_text().replace("\\\n", " ")
    return {line.split(" ")[0]: line.count("--hash=sha256:") for line in text.splitlines() if "==" in line}


@pytest.mark.parametrize("lock", LOCKS)
def test_a_lock_names_no_address_and_no_folder(lock):
    text = (ROOT / lock).read_text()
    assert "://" not in text
    assert not re.search(r"--(index|extra|find)|@ |(^|\s)/", text)


@pytest.mark.parametrize("lock", LOCKS)
def test_every_pin_has_hashes(lock):
    assert len(pins(lock)) > 5
    assert [pin for pin, hashes in pins(lock).items() if hashes == 0] == []


def test_what_runs_the_site_is_the_same_in_every_lock():
    assert pins(LOCKS[0]).keys() < pins(LOCKS[1]).keys() < pins(LOCKS[2]).keys()


def test_a_shop_on_a_server_brings_its_database_its_carrier_and_no_tests():
    names = {pin.partition("==")[0] for pin in pins(LOCKS[1]).keys() - pins(LOCKS[0]).keys()}
    assert {"psycopg", "psycopg-binary", "celery", "redis"} <= names
    assert "pytest" not in names
