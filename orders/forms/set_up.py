"""The first owner, and the four questions of an empty shop."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib.auth.password_validation import validate_password

from orders.countries import COUNTRIES, place_choices, read_place, zone_choices
from orders.models import Person, Shop
from planner.problems import BadInput
from planner.units import Money, currencies, parse_money


class FirstOwnerForm(forms.Form):
    name = forms.CharField(
        max_length=80, label="Your name", error_messages={"required": "Type your name."},
        widget=forms.TextInput(attrs={"autocomplete": "username"}),
    )  # fmt: skip
    password = forms.CharField(
        max_length=1000, strip=False, help_text="Ten characters or more; a few words are easy to keep.",
        error_messages={"required": "Choose a password."},
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )  # fmt: skip

    def clean(self) -> None:
        name, password = self.cleaned_data.get("name"), self.cleaned_data.get("password")
        if name and password:
            try:
                validate_password(password, Person(name=name))
            except forms.ValidationError as fault:
                self.add_error("password", fault)


class PlaceForm(forms.Form):
    place = forms.ChoiceField(
        label="Country and clock",
        choices=place_choices,
        error_messages={
            "required": "Choose a country.",
            "invalid_choice": "Choose a country of the list, or “Somewhere else”.",
        },
    )


class ShopForm(forms.Form):
    """The three questions after the place; elsewhere, unit and money are asked too."""

    name = forms.CharField(
        max_length=120, label="What is the shop called?", error_messages={"required": "Give it a name."}
    )
    time_zone = forms.ChoiceField(
        label="Whose clock does it go by?",
        help_text="The nearest city.",
        choices=lambda: [("", "Choose"), *zone_choices()],
        error_messages={"required": "Choose the nearest city."},
    )
    unit = forms.ChoiceField(
        label="Measured in",
        choices=Shop.Unit.choices,
        widget=forms.RadioSelect,
        error_messages={"required": "Tap inches or centimeters."},
    )
    currency = forms.ChoiceField(
        label="Paid in",
        choices=lambda: [("", "Choose"), *((each, each) for each in currencies())],
        error_messages={"required": "Choose the money the shop is paid in."},
    )
    hours = forms.IntegerField(
        label="How many hours a week at the bench?", min_value=1, max_value=80,
        help_text="Monday to Friday alike; each day can be changed later.",
        error_messages={
            "required": "Give the hours you can be at the bench in a usual week.",
            "invalid": "Give whole hours, such as 25.",
            "min_value": "At least one hour, or nothing can be planned.",
            "max_value": "More than 80 hours a week is more than anybody sews.",
        },
    )  # fmt: skip
    block = forms.CharField(
        label="What does one block cost, all in?", max_length=20,
        help_text="One shirt in the quilt: cut, fused, sewn, quilted, bound.",
        error_messages={"required": "Give a price to start from; it can be changed any day."},
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
    )  # fmt: skip

    def __init__(self, *args: Any, place: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.code, self.zone = read_place(place)
        self.country = COUNTRIES.get(self.code)
        if self.country is not None:
            for settled in ("time_zone", "unit", "currency"):
                del self.fields[settled]

    def clean(self) -> None:
        currency, typed = self.settled("currency"), self.cleaned_data.get("block")
        if not currency or not typed:
            return
        try:
            price = parse_money(typed, currency)
        except BadInput as fault:
            self.add_error("block", f"{fault}"[:1].upper() + f"{fault}"[1:])
        else:
            if price.minor <= 0:
                self.add_error("block", "The price must be more than nothing.")
            self.cleaned_data["price"] = price

    def settled(self, name: str) -> str:
        """Return what the place settles, or what was asked instead."""
        return str(self.cleaned_data.get(name) or getattr(self.country, name, ""))

    def answers(self) -> dict[str, str]:
        """Return what `Shop.objects.set_up` asks for."""
        return {
            "name": self.cleaned_data["name"],
            "country": self.code,
            "unit": self.settled("unit"),
            "currency": self.settled("currency"),
            "paper": self.settled("paper") or Shop.Paper.A4,
            "time_zone": self.zone or self.cleaned_data["time_zone"],
        }

    @property
    def price(self) -> Money:
        price: Money = self.cleaned_data["price"]
        return price
