"""Measures the pages of the site as it is served, by the CPU of the server's own process."""

from __future__ import annotations

import os
import re
import socket
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import urlencode
from uuid import uuid4

from django.core.handlers.wsgi import WSGIHandler
from django.db import connection
from django.test.utils import CaptureQueriesContext

from config.kept_pages import shelf
from orders.demo.shop import OWNER, PASSWORD
from orders.management.commands.serve import server_options
from orders.models import Shop
from tests.bench.bench_pages import ROUNDS, Figures
from tests.bench.browse import Browser, Caller, weight

A_TURN = 0.25  # seconds of CPU at most for a turn of one page
BARE = 20  # requests of the bare view before and after each turn
STOCK = "tests.bench.stock"


def all_of(shop: dict[str, Any]) -> list[Figures]:
    """Return the figures of each page: queries counted in this process, CPU of the two that serve."""
    with served("config.wsgi") as site, served(STOCK) as bare:
        owner, customer = Caller(site), Caller(site)
        owner.post("/sign-in/", {"name": OWNER, "password": PASSWORD}, page="/sign-in/")
        customer.get(f"/for-you/{shop['token']}/")
        bare_browser = Caller(bare)
        here, hers = Browser(WSGIHandler()), Browser(WSGIHandler())
        here.post("/sign-in/", {"name": OWNER, "password": PASSWORD}, page="/sign-in/")
        hers.get(f"/for-you/{shop['token']}/")
        room = f"/quilts/{shop['order']}"
        pages = {
            "quilts": (owner, here, "/quilts/"),
            "order: bag": (owner, here, f"{room}/bag/"),
            "order: quilt": (owner, here, f"{room}/quilt/"),
            "order: bench": (owner, here, f"{room}/bench/"),
            "order: account": (owner, here, f"{room}/account/"),
            "today": (owner, here, "/"),
            "customer’s page": (customer, hers, "/for-you/"),
        }
        found = [
            of_page(name, place, caller=caller, here=browser, bare=bare_browser)
            for name, (caller, browser, place) in pages.items()
        ]
        return [*found, of_payment(bare_browser, owner, here, f"{room}/account/")]


@contextmanager
def served(program: str) -> Iterator[Any]:
    """Serve a program as `manage.py serve` does, in a process of its own; it is asked at the port given."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    options = [program if each == "config.wsgi" else each for each in server_options("127.0.0.1", port)]
    if program != "config.wsgi":
        options.remove("--config=python:config.server")  # it has no errands to run
    root = Path(__file__).resolve().parents[2]
    env = os.environ | {"PORT": str(port), "PYTHONPATH": str(root)}
    with subprocess.Popen([sys.executable, "-m", "gunicorn", *options], cwd=root, env=env) as server:
        try:
            yield Served(server.pid, port)
        finally:
            server.terminate()


class Served:
    """A site in another process, and the CPU that it has taken."""

    def __init__(self, pid: int, port: int) -> None:
        self.pid, self.port = pid, port
        for _ in range(300):
            try:
                socket.create_connection(("127.0.0.1", port), timeout=1).close()
            except OSError:
                time.sleep(0.1)
            else:
                return
        raise SystemExit("The server did not open.")

    def cpu(self) -> float:
        """Return the seconds of CPU of the process that answers."""
        children = Path(f"/proc/{self.pid}/task/{self.pid}/children").read_text().split()
        threads = [each for child in children for each in Path(f"/proc/{child}/task").iterdir()]
        return sum(int((each / "schedstat").read_text().split()[0]) for each in threads) / 1e9


def change_something() -> None:
    """Write into the records, so that no page that was kept is of now."""
    shop = Shop.objects.get()
    Shop.objects.filter(pk=shop.pk).update(last_order_number=shop.last_order_number)


def of_page(name: str, place: str, *, caller: Caller, here: Browser, bare: Caller) -> Figures:
    """Return what looking at a page costs: the first time after a change, and again."""
    text = here.text(place)
    assert here.status.startswith("200"), (name, here.status)
    shelf.clear()
    asked, asked_again = queries_of(lambda: here.get(place)), queries_of(lambda: here.get(place))
    size, beside = len(here.get(place)), weight(text)
    caller.get(place)
    first, again = in_turns(lambda: (change_something(), caller.get(place)), caller, bare)
    kept, kept_times = in_turns(lambda: caller.get(place), caller, bare)
    return Figures(
        name, again, first * 1000, kept_times, kept * 1000, asked, asked_again, size,
        size + sum(beside.values()), beside["script"],
    )  # fmt: skip


def of_payment(bare: Caller, owner: Caller, here: Browser, account: str) -> Figures:
    """Return what taking a payment costs, up to the answer that leads back to the account."""
    sent = {browser: _form_of(browser.text(account)) for browser in (owner, here)}

    def pay(browser: Any) -> None:
        form = urlencode({**sent[browser], "pay-key": uuid4().hex})
        browser.ask("POST", f"{account}payments/", form.encode())
        assert browser.status.startswith("302"), browser.status

    asked = queries_of(lambda: pay(here))
    milliseconds, times = in_turns(lambda: pay(owner), owner, bare)
    return Figures("payment", times, milliseconds * 1000, times, milliseconds * 1000, asked, asked, 0, 0, 0)


def _form_of(page: str) -> dict[str, str]:
    payer = re.search(r'name="pay-payer" value="([^"]+)"', page)
    token = re.search(r'name="csrfmiddlewaretoken" value="([^"]+)"', page)
    assert payer
    assert token
    form = {"pay-amount": "0.01", "pay-method": "cash", "pay-payer": payer[1]}
    return {**form, "csrfmiddlewaretoken": token[1]}


def queries_of(ask: Callable[[], Any]) -> int:
    """Count at once: the next request empties the list."""
    with CaptureQueriesContext(connection) as queries:
        ask()
        return len(queries)


def in_turns(ask: Callable[[], Any], caller: Caller, bare: Caller) -> tuple[float, float]:
    """Return the CPU seconds that a request took, and how many times that of the bare view: medians."""
    times = max(2, min(BARE, int(A_TURN / cpu(ask, caller, times=2))))
    took, multiples = [], []
    for _ in range(ROUNDS):
        before = cpu(lambda: bare.get("/bare/"), bare, times=BARE)
        took.append(cpu(ask, caller, times=times))
        after = cpu(lambda: bare.get("/bare/"), bare, times=BARE)
        multiples.append(took[-1] * 2 / (before + after))
    return statistics.median(took), statistics.median(multiples)


def cpu(ask: Callable[[], Any], caller: Caller, *, times: int) -> float:
    begun = caller.site.cpu()
    for _ in range(times):
        ask()
    return float(caller.site.cpu() - begun) / times
