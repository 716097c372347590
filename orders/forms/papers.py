"""What is said before a paper is made."""

from __future__ import annotations

from datetime import date
from typing import Any

from django import forms


class UnclaimedForm(forms.Form):
    """The day that is asked for in a notice, and how the notice is sent."""

    collect_by = forms.DateField(
        label="Please collect it by", error_messages={"required": "Pick a day.", "invalid": "Pick a day."}
    )
    sent_how = forms.CharField(label="How it is sent", required=False, max_length=120)

    def __init__(self, *args: Any, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today

    def clean_collect_by(self) -> date:
        """Return a day that is still to come."""
        day: date = self.cleaned_data["collect_by"]
        if day <= self.today:
            raise forms.ValidationError("Pick a day that is still to come.")
        return day
