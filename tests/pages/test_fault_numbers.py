"""The number on a page that went wrong stands in the log, and the log tells nothing secret."""

import io
import logging
import re

import pytest
from django.core.exceptions import RequestDataTooBig
from django.db import OperationalError
from django.http import HttpResponse
from django.urls import path

from config import faults
from config.urls import handler400, handler403, handler404, handler500  # noqa: F401
from orders.views.callers import ANYONE, open_to

pytestmark = [pytest.mark.django_db, pytest.mark.urls(__name__)]
TOKEN = "Zm9yIHRoZSBhdW50IG9mIEZlcm5jbGlmZiBvbmx5"


@open_to(ANYONE)
def failing(request, **kwargs):
    raise ZeroDivisionError


def full(request):
    raise OSError(28, "No space left on device")


def full_records(request):
    raise OperationalError("database or disk is full")


def busy(request):
    raise OperationalError("database is locked")


def too_many_fields(request):
    raise RequestDataTooBig


def taken(request):
    return HttpResponse(f"{len(request.body)} bytes")


urlpatterns = [
    path("failing", failing),
    path("link/<str:token>/", failing),
    path("full", full),
    path("full-records", full_records),
    path("busy", busy),
    path("too-many-fields", too_many_fields),
    path("taken", taken),
]


@pytest.fixture
def log():
    """Return what the site writes to its log, as it is written there."""
    written = io.StringIO()
    handler = next(handler for handler in logging.getLogger().handlers if handler.get_name() == "console")
    before = handler.setStream(written)
    yield written
    handler.setStream(before)


@pytest.fixture
def guest(client):
    client.raise_request_exception = False
    return client


def number_on(answer):
    (number,) = re.findall(r"\b\d{4}-\d{4}\b", answer.content.decode())
    return number


@pytest.mark.parametrize(
    ("address", "status", "words"),
    [
        ("/failing", 500, "Something went wrong here"),
        ("/no-such-page", 404, "This page is not here"),
        ("/full", 507, "no room left"),
        ("/full-records", 507, "no room left"),
        ("/busy", 503, "records were busy"),
        ("/too-many-fields", 413, "too large"),
    ],
)
def test_a_page_that_went_wrong_has_words_and_a_number_that_stands_in_the_log(
    guest, log, address, status, words
):
    answer = guest.get(address)
    assert answer.status_code == status
    assert words in answer.content.decode()
    line = next(line for line in log.getvalue().splitlines() if "site.faults" in line)
    assert f"{number_on(answer)} site.faults: {status} GET {address} person -" in line


def test_a_fault_of_ours_leaves_its_trace_under_the_same_number(guest, log):
    number = number_on(guest.get("/failing"))
    trace = next(line for line in log.getvalue().splitlines() if "django.request" in line)
    assert number in trace
    assert "ZeroDivisionError" in log.getvalue()


def test_each_request_has_a_number_of_its_own(guest):
    assert number_on(guest.get("/failing")) != number_on(guest.get("/failing"))


def test_the_log_names_the_person_by_number_only(client, ada, log):
    client.force_login(ada)
    client.get("/no-such-page", {"name": "the aunt"})
    assert "the aunt" not in log.getvalue()
    assert "Ada" not in log.getvalue()


def test_the_token_of_a_private_link_and_what_was_typed_are_not_in_the_log(guest, log):
    guest.get(f"/link/{TOKEN}/")
    guest.post(f"/link/{TOKEN}/?key={TOKEN}", {"phone": "555 0131"})
    guest.get(f"/nowhere/{TOKEN}")
    assert log.getvalue().count("/link/…/") >= 2
    assert TOKEN not in log.getvalue()
    assert "555 0131" not in log.getvalue()


def test_a_made_up_address_cannot_write_a_line_of_its_own(guest, log):
    guest.get("/x%0A2027-03-15%20ERROR%20all%20is%20lost")
    assert not [line for line in log.getvalue().splitlines() if line.startswith("2027")]


def test_a_page_that_is_only_a_button_says_so(client, settings, log):
    settings.ROOT_URLCONF = "config.urls"
    answer = client.get("/sign-out/")
    assert (answer.status_code, answer.headers["Allow"]) == (405, "POST")
    assert "opened by a button" in answer.content.decode()
    assert number_on(answer) in log.getvalue()


def test_what_is_far_too_large_is_refused_before_it_is_kept(client, monkeypatch):
    monkeypatch.setattr(faults, "MOST_BYTES", 1000)
    assert client.post("/taken", b"x" * 1000, content_type="text/plain").content == b"1000 bytes"
    answer = client.post("/taken", b"x" * 1001, content_type="text/plain")
    assert answer.status_code == 413
    assert "fewer photos at once" in answer.content.decode()


def test_a_broken_page_of_faults_asks_nothing_of_the_database(guest, django_assert_num_queries):
    with django_assert_num_queries(0):
        guest.get("/failing")
