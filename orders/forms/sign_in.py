"""The two fields of the door."""

from __future__ import annotations

from django import forms
from django.contrib.auth import authenticate
from django.utils import timezone

from orders.models import Person, SignInFailure


class SignInForm(forms.Form):
    name = forms.CharField(max_length=80, error_messages={"required": "Type your name."})
    password = forms.CharField(
        max_length=1000, strip=False, error_messages={"required": "Type your password."}
    )

    person: Person

    def clean(self) -> None:
        if self.errors:
            return
        name, now = self.cleaned_data["name"], timezone.now()
        if SignInFailure.objects.too_many_for(name, now=now):
            self.add_error("password", "Too many wrong tries for this name. Wait 15 minutes, then try again.")
            return
        person = authenticate(username=name, password=self.cleaned_data["password"])
        if isinstance(person, Person):
            SignInFailure.objects.of(name).delete()
            self.person = person
        else:
            SignInFailure.objects.note(name, now=now)
            self.add_error(
                "password",
                "This password does not go with this name. Look at the name, then type the password again.",
            )
