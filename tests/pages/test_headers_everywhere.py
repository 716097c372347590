"""Every address of the site: what goes with each answer, and no word of script in it."""

from __future__ import annotations

import re

import pytest
from django.test import Client
from django.urls import reverse

from config.headers import POLICY
from orders.models import Person
from tests.pages.callers import CUSTOMER, NOBODY, ROWS, address
from tests.pages.test_callers import numbers  # noqa: F401  (fixture)

pytestmark = pytest.mark.django_db
INLINE = re.compile(r"\s(?:style|on\w+|hx-on[\w:-]*)\s*=|<style|<script(?![^>]*\ssrc=)|javascript:", re.I)


@pytest.fixture
def callers(numbers):  # noqa: F811
    """Return a browser of the owner, and one of a customer."""
    owner, customer = Client(), Client()
    owner.force_login(Person.objects.get(role=Person.Role.OWNER))
    customer.get(reverse("for-you-open", args=[numbers["token"]]))
    return {CUSTOMER: customer, "": owner}


@pytest.mark.parametrize("name", [name for name, row in ROWS.items() if row.look != NOBODY])
def test_an_answer_is_private_and_runs_only_files_of_the_site(callers, numbers, name):  # noqa: F811
    row = ROWS[name]
    answer = callers.get(row.look, callers[""]).get(address(name, row, numbers))
    assert answer.status_code < 400
    assert answer["Content-Security-Policy"] == POLICY
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["X-Frame-Options"] == "DENY"
    assert answer["Referrer-Policy"] in ("same-origin", "no-referrer")
    assert answer["Cross-Origin-Opener-Policy"] == "same-origin"
    assert "no-store" in answer["Cache-Control"] or "private" in answer["Cache-Control"]
    assert not answer.has_header("Access-Control-Allow-Origin")
    if answer["Content-Type"].startswith("text/"):
        assert "charset=utf-8" in answer["Content-Type"].lower()
    if answer["Content-Type"].startswith("text/html") and not answer.streaming:
        assert INLINE.findall(answer.content.decode()) == []


def test_the_policy_leaves_nothing_inline_and_nothing_from_elsewhere():
    assert "unsafe" not in POLICY
    assert set(re.findall(r"'[^']*'|https?:\S+|\*", POLICY)) == {"'none'", "'self'"}


def test_a_word_of_script_in_a_page_would_be_noticed():
    for bad in (
        '<p style="color:red">',
        '<a onclick="x()">',
        "<script>x()</script>",
        '<a href="javascript:x">',
    ):
        assert INLINE.search(bad)
    assert not INLINE.search('<script src="/static/js/app.js" defer></script>')
