"""One server and one filled shop for all of these tests; each takes a database and a copy of its own."""

from __future__ import annotations

import pytest

from tests.services.shops import FILL, Place, server


@pytest.fixture(scope="session")
def postgres():
    with server() as running:
        yield running


@pytest.fixture(scope="session")
def filled(tmp_path_factory):
    """Return a folder with the made-up shop, three photographs and a paper, to be copied alone."""
    place = Place(tmp_path_factory.mktemp("filled"))
    place.manage("migrate", "-v0")
    place.python(FILL)
    return place
