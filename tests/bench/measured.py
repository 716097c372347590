"""Measures the pages of the site in this process."""

from __future__ import annotations

import gc
import re
import time
from collections.abc import Callable
from typing import Any
from uuid import uuid4

from django.core.handlers.wsgi import WSGIHandler
from django.db import connection
from django.http import HttpResponse
from django.test.utils import CaptureQueriesContext, override_settings
from django.urls import include, path

from orders.demo.shop import OWNER, PASSWORD
from tests.bench.bench_pages import ROUNDS, Figures
from tests.bench.browse import Browser, weight

A_TURN = 0.4  # seconds of CPU at most for a turn of one page
STOCK = [
    "django.middleware.security.SecurityMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
]
urlpatterns = [path("bare/", lambda request: HttpResponse("ok")), path("", include("config.urls"))]


def all_of(shop: dict[str, Any]) -> list[Figures]:
    """Return the figures of each page."""
    with override_settings(ROOT_URLCONF=__name__, MIDDLEWARE=STOCK):
        bare = Browser(WSGIHandler())
        bare.get("/bare/")
    with override_settings(ROOT_URLCONF=__name__):
        site = WSGIHandler()
        owner, customer = Browser(site), Browser(site)
        owner.post("/sign-in/", {"name": OWNER, "password": PASSWORD}, page="/sign-in/")
        customer.get(f"/for-you/{shop['token']}/")
        room = f"/quilts/{shop['order']}"
        pages = {
            "quilts": (owner, "/quilts/"),
            "order: bag": (owner, f"{room}/bag/"),
            "order: quilt": (owner, f"{room}/quilt/"),
            "order: bench": (owner, f"{room}/bench/"),
            "order: account": (owner, f"{room}/account/"),
            "today": (owner, "/"),
            "customer’s page": (customer, "/for-you/"),
        }
        found = [of_page(name, bare, *where) for name, where in pages.items()]
        return [*found, of_payment(bare, owner, f"{room}/account/")]


def of_page(name: str, bare: Browser, browser: Browser, place: str) -> Figures:
    """Return what looking at a page costs."""
    text = browser.text(place)
    assert browser.status.startswith("200"), (name, browser.status)
    asked = queries_of(lambda: browser.get(place))
    size, beside = len(browser.get(place)), weight(text)
    least, times = in_turns(lambda: browser.get(place), bare)
    return Figures(name, times, least * 1000, asked, size, size + sum(beside.values()), beside["script"])


def of_payment(bare: Browser, owner: Browser, account: str) -> Figures:
    """Return what taking a payment costs, up to the answer that leads back to the account."""
    page = owner.text(account)
    payer = re.search(r'name="pay-payer" value="([^"]+)"', page)
    token = re.search(r'name="csrfmiddlewaretoken" value="([^"]+)"', page)
    assert payer
    assert token

    def pay() -> None:
        form = {"pay-amount": "0.01", "pay-method": "cash", "pay-payer": payer[1], "pay-key": uuid4().hex}
        sent = "&".join(
            f"{name}={value}" for name, value in {**form, "csrfmiddlewaretoken": token[1]}.items()
        )
        owner.ask("POST", f"{account}payments/", sent.encode())
        assert owner.status.startswith("302"), owner.status

    asked = queries_of(pay)
    least, times = in_turns(pay, bare)
    return Figures("payment", times, least * 1000, asked, 0, 0, 0)


def queries_of(ask: Callable[[], Any]) -> int:
    """Count at once: the next request empties the list."""
    with CaptureQueriesContext(connection) as queries:
        ask()
    return len(queries)


def in_turns(ask: Callable[[], Any], bare: Browser) -> tuple[float, float]:
    """Return the least CPU seconds a request took, and how many times that of the bare view."""
    gc.collect()
    once = cpu(ask, times=1)
    times = max(1, min(6, int(A_TURN / once)))
    took, took_bare = [], []
    for _ in range(ROUNDS if once < A_TURN else 2):
        took_bare.append(cpu(lambda: bare.get("/bare/"), times=60))
        took.append(cpu(ask, times=times))
    return min(took), min(took) / min(took_bare)


def cpu(ask: Callable[[], Any], *, times: int) -> float:
    begun = time.process_time()
    for _ in range(times):
        ask()
    return (time.process_time() - begun) / times
