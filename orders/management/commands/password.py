"""Let a person in: make them, or change their password."""

from __future__ import annotations

import sys
from getpass import getpass
from typing import Any

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError, CommandParser

from orders.models import Person, SignIn, SignInFailure
from orders.models.people import fold_name


class Command(BaseCommand):
    help = "Make a person of the shop (the first is its owner, any other a helper) or change a password."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("name", help="as it will be typed at the door; capitals do not count")
        parser.add_argument("--stdin", action="store_true", help="read the password as one line of input")

    def handle(self, *args: Any, **options: Any) -> None:
        name = options["name"]
        if not fold_name(name) or len(name) > 80:
            raise CommandError("Give a name of 1 to 80 characters.")
        person = Person.objects.named(name)
        password = line_from_stdin() if options["stdin"] else ask_twice()
        refuse_weak(password, person or Person(name=name))
        if person is None:
            role = Person.Role.HELPER if Person.objects.exists() else Person.Role.OWNER
            person = Person.objects.create_person(name, role=role, password=password)
            self.stdout.write(f"{person.name} can now sign in as {person.role}.")
        else:
            person.set_password(password)
            person.save()
            SignIn.objects.of(person).end(by=person)
            self.stdout.write(f"{person.name} has a new password; older sign-ins have ended.")
        SignInFailure.objects.of(name).delete()


def line_from_stdin() -> str:
    return sys.stdin.readline().rstrip("\r\n")


def ask_twice() -> str:
    password = getpass("Password: ")
    if getpass("Once more: ") != password:
        raise CommandError("The two did not match. Nothing was changed.")
    return password


def refuse_weak(password: str, person: Person) -> None:
    try:
        validate_password(password, person)
    except ValidationError as fault:
        raise CommandError(" ".join(fault.messages) + " Nothing was changed.") from fault
