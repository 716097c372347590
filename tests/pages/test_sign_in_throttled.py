"""Guessing passwords: many names from one place, one name from many places, a hundred at once."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import pytest
from django.db import connection
from django.test import Client, RequestFactory

from orders.door import came_from
from orders.models import SignInFailure
from tests.cast import PASSWORD


def try_at(name, password, place="198.51.100.7"):
    return Client(REMOTE_ADDR=place).post("/sign-in/", {"name": name, "password": password})


def waits(answer):
    return "Wait 15 minutes" in answer.content.decode()


@pytest.mark.django_db
def test_many_names_from_one_address_have_to_wait_and_others_do_not(ada):
    answers = [try_at(f"Name {number}", "a guess") for number in range(31)]
    assert [waits(each) for each in answers] == [False] * 30 + [True]
    assert waits(try_at("Ada", PASSWORD))
    assert try_at("Ada", PASSWORD, place="203.0.113.9").status_code == 302


@pytest.mark.django_db
def test_one_name_from_many_addresses_has_to_wait(ada):
    answers = [try_at("Ada", "a guess", place=f"198.51.100.{number}") for number in range(11)]
    assert [waits(each) for each in answers] == [False] * 10 + [True]
    assert waits(try_at("Ada", PASSWORD, place="203.0.113.9"))


@pytest.mark.django_db
def test_a_stranger_cannot_shut_the_owner_out_of_where_she_is_signed_in(ada):
    assert try_at("Ada", PASSWORD, place="203.0.113.9").status_code == 302
    for number in range(20):
        try_at("Ada", "a guess", place=f"198.51.100.{number}")
    assert waits(try_at("Ada", PASSWORD, place="198.51.100.99"))
    assert try_at("Ada", PASSWORD, place="203.0.113.9").status_code == 302


@pytest.mark.django_db
def test_a_place_she_is_known_from_has_no_endless_tries_either(ada):
    try_at("Ada", PASSWORD, place="203.0.113.9")
    answers = [try_at("Ada", "a guess", place="203.0.113.9") for _ in range(11)]
    assert [waits(each) for each in answers] == [False] * 10 + [True]


@pytest.mark.django_db
def test_a_try_that_was_not_looked_at_does_not_make_the_wait_longer(ada):
    for _ in range(25):
        try_at("Ada", "a guess")
    assert SignInFailure.objects.of("Ada").count() == 10


@pytest.mark.slow
@pytest.mark.django_db(transaction=True)
def test_of_forty_guesses_sent_at_once_ten_at_most_are_looked_at(ada, monkeypatch):
    looked_at = []
    monkeypatch.setattr("orders.forms.sign_in.authenticate", lambda **typed: looked_at.append(typed))

    def guess(number):
        try:
            return waits(try_at("Ada", "a guess", place=f"198.51.100.{number}"))
        finally:
            connection.close()

    with ThreadPoolExecutor(8) as crowd:
        waited = list(crowd.map(guess, range(40)))
    assert len(looked_at) == 40 - sum(waited) <= 10


def asked_by(peer, named=None):
    headers = {"X-Forwarded-For": named} if named else {}
    return came_from(RequestFactory(headers=headers, REMOTE_ADDR=peer).get("/"))


def test_behind_a_web_server_of_ours_the_caller_is_the_last_it_names(settings):
    settings.BEHIND_HTTPS = True
    assert asked_by("127.0.0.1", "10.9.9.9, 203.0.113.9") == "203.0.113.9"
    assert asked_by("172.18.0.5", "2001:db8::7") == "2001:db8::7"
    assert asked_by("127.0.0.1", "nonsense") == "127.0.0.1"
    assert asked_by("127.0.0.1") == "127.0.0.1"


def test_who_calls_from_outside_cannot_say_to_be_another(settings):
    settings.BEHIND_HTTPS = True
    assert asked_by("8.8.8.8", "203.0.113.9") == "8.8.8.8"
    settings.BEHIND_HTTPS = False
    assert asked_by("127.0.0.1", "203.0.113.9") == "127.0.0.1"
