"""Days off, one or several in a row, for the shop or for one person."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from django import forms

from orders.days.days_off import LONGEST
from orders.models import DayOff, Person

SHOP = "shop"
YEARS_AHEAD = 3


def day_field(label: str, wanting: str, *, required: bool = True) -> forms.DateField:
    """Return a field for a day; `wanting` is what is said when it is empty."""
    return forms.DateField(
        label=label, required=required, widget=forms.DateInput,
        error_messages={"required": wanting, "invalid": "Give a day, such as 2027-04-15."},
    )  # fmt: skip


class DaysOffForm(forms.Form):
    first = day_field("From", "Give the first day.")
    last = forms.DateField(
        label="To", required=False, widget=forms.DateInput,
        error_messages={"invalid": "Give a day, such as 2027-04-16, or leave it empty for one day."},
    )  # fmt: skip
    person = forms.ChoiceField(
        label="Who", choices=[], initial=SHOP,
        error_messages={"invalid_choice": "Choose somebody of the shop, or the whole shop."},
    )  # fmt: skip
    why = forms.ChoiceField(label="Why", choices=DayOff.Why.choices, initial=DayOff.Why.OFF, required=False)
    words = forms.CharField(label="In your words", max_length=80, required=False)

    def __init__(self, *args: Any, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today
        self.people = {str(each.pk): each for each in Person.objects.filter(is_active=True)}
        names = [(pk, each.name) for pk, each in self.people.items()]
        self.fields["person"].choices = [(SHOP, "The whole shop"), *names]  # type: ignore[attr-defined]

    def clean(self) -> None:
        first, last = self.cleaned_data.get("first"), self.cleaned_data.get("last")
        if first is None:
            return
        if first < self.today:
            self.add_error("first", "That day is past. Begin with today or later.")
        if first > self.today + timedelta(days=366 * YEARS_AHEAD):
            self.add_error("first", f"That is more than {YEARS_AHEAD} years ahead. Look at the year again.")
        if last is not None and last < first:
            self.add_error("last", "The last day comes before the first. Turn them round.")
        elif last is not None and (last - first).days >= LONGEST:
            self.add_error("last", f"More than {LONGEST} days at once. Enter them in two parts.")
        self.cleaned_data["last"] = last or first
        self.cleaned_data["why"] = self.cleaned_data.get("why") or DayOff.Why.OFF

    @property
    def who(self) -> Person | None:
        """Return who is away, None for the whole shop."""
        return self.people.get(self.cleaned_data["person"])
