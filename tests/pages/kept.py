"""What the tests of kept pages share: pages that are kept, an owner, where a page came from."""

from __future__ import annotations

import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from config import kept_pages

NAMES = ("today", "quilts", "order-bag", "order-quilt", "order-bench", "order-account")
TOKEN = re.compile(r'(name="csrf(?:middleware)?-?token" (?:value|content)=")[^"]+')
KEY = re.compile(r'(?<=value=")[0-9a-f]{32}(?=")')
AT_MOST = 3  # queries: who is signed in, who that is, and the stamp


@pytest.fixture(autouse=True)
def pages_are_drawn(monkeypatch):
    monkeypatch.setattr(kept_pages, "minute_now", lambda: "this minute")
    kept_pages.shelf.clear()
    yield
    kept_pages.shelf.clear()


@pytest.fixture
def owner(client, ada, shop):
    client.force_login(ada)
    client.get(reverse("workroom"))  # the first visit brings the cookie of forms
    return client


def address(name, order):
    return reverse(name, args=[order.number] if name.startswith("order-") else [])


def look(client, place):
    """Return a page but for its secret, and whether it came from memory."""
    with CaptureQueriesContext(connection) as asked:
        answer = client.get(place)
    assert answer.status_code == 200
    return KEY.sub("", TOKEN.sub(r"\1", answer.content.decode())), len(asked) <= AT_MOST
