"""The command that lets people in."""

from io import StringIO

import pytest
from django.contrib.auth import authenticate
from django.core.management import CommandError, call_command
from django.utils import timezone

from orders.management.commands import password as command
from orders.models import Person, SignInFailure

pytestmark = pytest.mark.django_db
GOOD = "nine patches and a half"


def set_password(monkeypatch, name, line):
    monkeypatch.setattr("sys.stdin", StringIO(line + "\n"))
    said = StringIO()
    call_command("password", name, "--stdin", stdout=said)
    return said.getvalue()


def test_the_first_person_owns_the_shop_and_the_next_one_helps(monkeypatch):
    assert set_password(monkeypatch, "Ada", GOOD) == "Ada can now sign in as owner.\n"
    assert set_password(monkeypatch, "Bo", GOOD) == "Bo can now sign in as helper.\n"
    assert authenticate(username="ada", password=GOOD).role == "owner"


def test_a_name_that_is_there_gets_a_new_password_however_it_is_typed(monkeypatch):
    set_password(monkeypatch, "Zoë Marsh", GOOD)
    set_password(monkeypatch, "  ZOE\u0308 marsh ", "a dozen shirts in a bag")
    assert Person.objects.count() == 1
    assert authenticate(username="zoë marsh", password=GOOD) is None
    assert authenticate(username="Zoë Marsh", password="a dozen shirts in a bag") is not None


@pytest.mark.parametrize("weak", ["password123", "short", "1234567890", "Ada Lindqvist", ""])
def test_a_weak_password_is_refused_and_nobody_is_made(monkeypatch, weak):
    with pytest.raises(CommandError, match="Nothing was changed"):
        set_password(monkeypatch, "Ada Lindqvist", weak)
    assert not Person.objects.exists()


@pytest.mark.parametrize("name", ["", "   ", "x" * 81])
def test_a_person_has_a_name_of_reasonable_length(monkeypatch, name):
    with pytest.raises(CommandError, match="1 to 80"):
        set_password(monkeypatch, name, GOOD)


def test_two_passwords_that_differ_change_nothing(monkeypatch):
    answers = iter([GOOD, GOOD + "!"])
    monkeypatch.setattr(command, "getpass", lambda prompt: next(answers))
    with pytest.raises(CommandError, match="did not match"):
        call_command("password", "Ada")
    assert not Person.objects.exists()


def test_a_new_password_opens_a_door_that_was_shut_after_wrong_tries(monkeypatch):
    for _ in range(SignInFailure.MOST):
        SignInFailure.objects.note("Ada", came_from="", now=timezone.now())
    set_password(monkeypatch, "Ada", GOOD)
    assert not SignInFailure.objects.of("Ada").exists()
