"""`manage.py demo` opens the demo shop once, and never beside real records."""

from __future__ import annotations

import pytest
from django.core.management import CommandError, call_command

from orders.models import Customer, Entry, Order

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


def test_the_command_is_safe_twice_and_says_how_to_get_in(capsys):
    call_command("demo")
    before = Order.objects.count(), Entry.objects.count()
    call_command("demo")
    assert (Order.objects.count(), Entry.objects.count()) == before
    said = capsys.readouterr().out
    assert "stands already" in said
    assert "Sign in as Wren (owner) or Juno (helper)" in said


def test_the_command_refuses_beside_real_records():
    Customer.objects.create(name="A real customer", phone="555 0199")
    with pytest.raises(CommandError, match="real records"):
        call_command("demo")
    assert not Order.objects.exists()
