"""What is under way: a quilt to the quilter and back, cloth from a supplier."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from django import forms

from orders.forms.weeks import day_field
from orders.forms.workroom import STAGE_WORDS
from orders.models import Order, Outside

AFTER_THE_QUILTER = "bind"
LONGEST = 400  # days under way


class TripForm(forms.Form):
    order = forms.ModelChoiceField(
        Order.objects.none(), label="For", empty_label=None,
        error_messages={"required": "Say for which quilt.",
                        "invalid_choice": "Choose a quilt that is in the workroom."},
    )  # fmt: skip
    outside = forms.ModelChoiceField(
        Outside.objects.none(), label="With", empty_label=None,
        error_messages={"required": "Say with whom.", "invalid_choice": "Choose somebody from the list."},
    )  # fmt: skip
    what = forms.CharField(
        label="What", max_length=80, error_messages={"required": "Say what it is, such as black backing."}
    )
    waits = forms.ChoiceField(
        label="What waits for it", choices=list(STAGE_WORDS.items()), initial=AFTER_THE_QUILTER,
        error_messages={"required": "Say which work waits for it."},
    )  # fmt: skip
    sent_on = day_field("Sent or ordered on", "Give the day it went.")
    expected_on = day_field("Expected back", "", required=False)

    def __init__(self, *args: Any, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today
        self.fields["order"].queryset = Order.objects.in_the_workroom().soonest_first()  # type: ignore[attr-defined]
        self.fields["outside"].queryset = Outside.objects.in_use()  # type: ignore[attr-defined]
        self.fields["expected_on"].help_text = "Empty: reckoned from their days, their closures and the way."

    def clean(self) -> None:
        said = self.cleaned_data
        sent, outside = said.get("sent_on"), said.get("outside")
        if sent is None or outside is None:
            return
        if abs((sent - self.today).days) > LONGEST:
            self.add_error("sent_on", "That is more than a year away. Look at the year again.")
            return
        expected = said.get("expected_on") or outside.back_by(sent)
        if expected < sent:
            self.add_error("expected_on", "It cannot come back before it went.")
        elif expected > self.today + timedelta(days=LONGEST):
            self.add_error(
                "expected_on", f"{expected} is beyond the days that are planned. Look at their days again."
            )
        said["expected_on"] = expected


class ExpectedForm(forms.Form):
    expected_on = day_field("Expected", "Give the day it is expected.")

    def __init__(self, *args: Any, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today

    def clean_expected_on(self) -> date:
        day: date = self.cleaned_data["expected_on"]
        if day < self.today:
            raise forms.ValidationError("That day is past. If it is here, say so.")
        if day > self.today + timedelta(days=LONGEST):
            raise forms.ValidationError("That is beyond the days that are planned. Look at the year again.")
        return day
