"""A word for whoever watches over the machine."""

import pytest
from django.db import DatabaseError, connection

from orders.background.runner import Runner

pytestmark = pytest.mark.django_db


def test_all_is_well(client):
    answer = client.get("/healthz")
    assert (answer.status_code, answer.content) == (200, b"ok\n")


def test_a_database_that_does_not_answer_is_not_well(client, monkeypatch):
    def broken():
        raise DatabaseError("disk I/O error")

    monkeypatch.setattr(connection, "cursor", broken)
    answer = client.get("/healthz")
    assert answer.status_code == 503
    assert b"database does not answer" in answer.content


def test_a_site_whose_errands_have_stopped_is_not_well(client, monkeypatch):
    monkeypatch.setattr("orders.background.runner._runner", Runner())
    answer = client.get("/healthz")
    assert answer.status_code == 503
    assert b"errands have stopped" in answer.content
