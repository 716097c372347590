"""The two fields of the door, and of a new password."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib.auth import authenticate
from django.contrib.auth.password_validation import validate_password
from django.utils import timezone

from orders.models import Person, SignIn, SignInFailure

FOR_THE_NAME = "Too many wrong tries for this name. Wait 15 minutes, then try again."
FROM_THERE = "Too many wrong tries from this network. Wait 15 minutes, then try again."
NOT_YOURS = "This is not your password. Type it again."
WRONG = "This password does not go with this name. Look at the name, then type the password again."


class SignInForm(forms.Form):
    name = forms.CharField(max_length=80, error_messages={"required": "Type your name."})
    password = forms.CharField(
        max_length=1000, strip=False, error_messages={"required": "Type your password."}
    )

    person: Person

    def __init__(self, *args: Any, came_from: str = "", **kwargs: Any) -> None:
        self.came_from = came_from
        super().__init__(*args, **kwargs)

    def clean(self) -> None:
        if self.errors:
            return
        found = tried(self.cleaned_data["name"], self.cleaned_data["password"], came_from=self.came_from)
        if isinstance(found, Person):
            self.person = found
        else:
            self.add_error("password", found)


class OwnPasswordForm(forms.Form):
    """A new password, by whoever knows the old one."""

    password = forms.CharField(
        label="Your password now", max_length=1000, strip=False,
        error_messages={"required": "Type the password you have now."},
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )  # fmt: skip
    new = forms.CharField(
        label="Your new password", max_length=1000, strip=False,
        help_text="Ten characters or more; a few words are easy to keep.",
        error_messages={"required": "Choose a new password."},
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )  # fmt: skip

    def __init__(self, *args: Any, person: Person, came_from: str = "", **kwargs: Any) -> None:
        self.person, self.came_from = person, came_from
        super().__init__(*args, **kwargs)

    def clean_new(self) -> str:
        new: str = self.cleaned_data["new"]
        validate_password(new, self.person)
        return new

    def clean(self) -> None:
        if self.errors:
            return
        found = tried(self.person.name, self.cleaned_data["password"], came_from=self.came_from)
        if not isinstance(found, Person):
            self.add_error("password", NOT_YOURS if found == WRONG else found)


def tried(name: str, password: str, *, came_from: str) -> Person | str:
    """Return the person whose password it is, or what to say; the try is counted before it is looked at."""
    one = SignInFailure.objects.note(name, came_from=came_from, now=timezone.now())
    if SignInFailure.objects.from_there(one) > SignInFailure.MOST_FROM_ONE_PLACE:
        return _not_looked_at(one, FROM_THERE)
    known = SignIn.objects.know(name, came_from)
    if SignInFailure.objects.for_this_name(one, known=known) > SignInFailure.MOST:
        return _not_looked_at(one, FOR_THE_NAME)
    person = authenticate(username=name, password=password)
    if not isinstance(person, Person):
        return WRONG
    SignInFailure.objects.of(name).delete()
    return person


def _not_looked_at(one: SignInFailure, words: str) -> str:
    """A try that was not looked at does not make the wait longer."""
    one.delete()
    return words
