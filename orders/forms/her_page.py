"""What the owner says of the people round an order, and what their pages may show."""

from __future__ import annotations

from datetime import date
from typing import Any

from django import forms

from orders.models import Order

MOST_LINES = 3


def three_lines(words: str) -> str:
    """Return the words of a label, tidied; more than three lines do not go on it."""
    lines = [" ".join(line.split()) for line in words.splitlines() if line.strip()]
    if len(lines) > MOST_LINES:
        raise forms.ValidationError("Up to three lines go on a label.")
    return "\n".join(lines)


class PeopleForm(forms.Form):
    """Who gets it, who collects it, until when it is a secret, and what a memorial's page may show."""

    recipient = forms.CharField(label="Who gets it", required=False, max_length=120)
    collector = forms.CharField(label="Who collects it", required=False, max_length=120)
    secret_until = forms.DateField(
        label="A secret from them until",
        required=False,
        error_messages={"invalid": "Pick a day, or leave it empty."},
    )
    label_words = forms.CharField(
        label="Words for the label", required=False, max_length=200, widget=forms.Textarea({"rows": 3})
    )
    pictures_welcome = forms.BooleanField(label="Pictures of cut pieces are welcome", required=False)

    def __init__(self, *args: Any, order: Order, today: date, **kwargs: Any) -> None:
        now = {name: getattr(order, name) for name in self.base_fields}
        super().__init__(*args, **{"initial": now, **kwargs})
        self.before, self.today = order.secret_until, today
        if not order.memorial:
            del self.fields["pictures_welcome"]

    def clean_label_words(self) -> str:
        return three_lines(self.cleaned_data["label_words"])

    def clean_secret_until(self) -> date | None:
        """A day that is past keeps nothing secret."""
        day: date | None = self.cleaned_data["secret_until"]
        if day is not None and day <= self.today and day != self.before:
            raise forms.ValidationError("Pick a day that is still to come.")
        return day

    def clean(self) -> dict[str, Any]:
        said = super().clean() or {}
        if said.get("secret_until") and not said.get("recipient"):
            self.add_error("recipient", "Write down from whom it is a secret.")
        return said
