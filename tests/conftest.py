"""What every test can ask for: the published tables, a Chromium, the cast of the shop."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NoReturn

import hypothesis
import pytest

from tests.cast import (  # noqa: F401  (fixtures)
    PASSWORD,
    ada,
    agreed,
    aunt,
    bo,
    drawn,
    order,
    password,
    quote,
    shelf,
    shop,
    taxed,
    twelve_shirts,
)

# Playwright runs an event loop in this thread, and Django then refuses database work unless told.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"

ROOT = Path(__file__).resolve().parent.parent
IN_CI = os.environ.get("CI") == "true"
ON_A_SERVER = bool(os.environ.get("TEST_DATABASE_URL"))
RECORDS = {"db", "transactional_db", "live_server"}  # the fixtures that every other one of records asks for

hypothesis.settings.register_profile("local", deadline=None)
hypothesis.settings.register_profile("ci", deadline=None, derandomize=True, print_blob=True)
hypothesis.settings.load_profile("ci" if IN_CI else "local")

CHROMIUM_FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if ON_A_SERVER:
        config.hook.pytest_deselected(items=[item for item in items if is_the_same_on_a_server(item)])
        items[:] = [item for item in items if not is_the_same_on_a_server(item)]
    for item in items:
        if "browser" in getattr(item, "fixturenames", ()):
            item.add_marker(pytest.mark.browser)
        if item.path.is_relative_to(ROOT / "tests" / "services"):
            item.add_marker(pytest.mark.services)
        if ON_A_SERVER and "in_a_file" in item.keywords:
            item.add_marker(pytest.mark.skip("about records in a file; these are on a server"))


def is_the_same_on_a_server(item: pytest.Item) -> bool:
    """Say whether a test meets no records, so that it has nothing to learn where others keep them."""
    meets_records = item.get_closest_marker("django_db") or RECORDS & set(getattr(item, "fixturenames", ()))
    return not meets_records and not item.path.is_relative_to(ROOT / "tests" / "services")


def leave_out(sentence: str) -> NoReturn:
    """Skip the test with a reason; under CI a test that cannot run has failed."""
    if IN_CI:
        pytest.fail(sentence)
    pytest.skip(sentence)


@pytest.fixture(scope="session")
def check_data() -> Path:
    """Return the folder of published tables that results are compared with."""
    folder = ROOT / os.environ.get("CHECK_DATA", "../shared/data")
    if not folder.is_dir():
        leave_out("Not compared with the published tables: CHECK_DATA names no folder.")
    return folder.resolve()


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args: dict[str, Any]) -> dict[str, Any]:
    chromium = shutil.which("chromium")
    if chromium is None:
        leave_out("Not looked at in a browser: there is no chromium (make setup installs it, as root).")
    return {**browser_type_launch_args, "executable_path": chromium, "args": CHROMIUM_FLAGS}


@pytest.fixture(autouse=True)
def pages_are_drawn(monkeypatch: pytest.MonkeyPatch) -> None:
    """Draw every page, so that a test sees what drawing asks and does; tests of kept pages keep them."""
    monkeypatch.setattr("config.kept_pages.stamp_now", lambda: "")


@pytest.fixture(scope="session", autouse=True)
def _tables_can_be_emptied() -> Iterator[None]:
    """Take the guards of the ledger away while Django empties the tables after a live-server test."""
    from django.db import connection
    from django.test import TransactionTestCase

    from orders import guards

    tidy_up = TransactionTestCase._fixture_teardown

    def unguarded(case: TransactionTestCase) -> None:
        guards.remove(connection)
        tidy_up(case)
        guards.install(connection)

    # For the whole run: a patch of one test would be taken back before its tables are emptied.
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(TransactionTestCase, "_fixture_teardown", unguarded)
        yield
