"""The questions at the door when a quilt leaves."""

from __future__ import annotations

from datetime import date
from typing import Any

from django import forms

from orders.customer.handing_over import Answers, Checklist
from orders.models import Consent, Shirt

SOMEBODY_ELSE = "somebody else"


class HandOverForm(forms.Form):
    """Only what this order still has open is asked."""

    use_required_attribute = False

    collector = forms.ChoiceField(
        label="Taken by", widget=forms.RadioSelect,
        error_messages=dict.fromkeys(("required", "invalid_choice"), "Say who takes it."),
    )  # fmt: skip
    other = forms.CharField(label="Their name", max_length=120, required=False)
    why_them = forms.CharField(label="Why they may have it", max_length=200, required=False)
    why_unpaid = forms.CharField(label="Why it leaves before all is paid", max_length=200, required=False)
    whole = forms.BooleanField(required=False)
    leftovers = forms.ChoiceField(
        label="The leftovers", required=False, widget=forms.RadioSelect,
        choices=[
            (Shirt.Leftovers.RETURNED, "All in their bag, with tags and buttons"),
            (Shirt.Leftovers.DISCARDED, "Thrown away, with leave"),
        ],
    )  # fmt: skip
    leave_by = forms.CharField(label="Who gave leave", max_length=120, required=False)
    leave_how = forms.ChoiceField(
        label="How they said it", choices=Consent.How.choices, widget=forms.RadioSelect, required=False,
        initial=Consent.How.PERSON,
    )  # fmt: skip
    needles = forms.BooleanField(required=False, label="Pins and needles are counted, none is left in it")

    def __init__(self, *args: Any, stands: Checklist, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.stands = stands
        names = [(name, name) for name in stands.names]
        self.fields["collector"].choices = [*names, (SOMEBODY_ELSE, "Somebody else")]  # type: ignore[attr-defined]
        self.fields["whole"].label = _whole_shirts(len(stands.whole))
        asked = {
            "why_unpaid": not stands.owing.is_settled,
            "whole": bool(stands.whole or stands.missing or stands.not_logged),
        }
        asked |= dict.fromkeys(("leftovers", "leave_by", "leave_how"), bool(stands.leftovers))
        for name, is_asked in asked.items():
            if not is_asked:
                del self.fields[name]

    def ask_plainly(self) -> None:
        """Call no question optional when it is drawn; what is needed follows from the answers."""
        for field in self.fields.values():
            field.required = True

    def answers(self) -> Answers:
        """Return what was ticked and typed, as far as it can be read."""
        said = self.cleaned_data
        other = said.get("collector") == SOMEBODY_ELSE
        return Answers(
            to=said.get("other" if other else "collector", ""),
            why_them=said.get("why_them", "") if other else "",
            why_unpaid=said.get("why_unpaid", ""),
            whole=said.get("whole", False),
            leftovers=said.get("leftovers", ""),
            leave_by=said.get("leave_by", ""),
            leave_how=said.get("leave_how") or "person",
            needles=said.get("needles", False),
        )

    def say(self, faults: dict[str, str]) -> None:
        """Put each fault beside its question, unless one stands there or it is not asked yet."""
        told = {*self.errors, *(("other", "why_them") if "collector" in self.errors else ())}
        for name, sentence in faults.items():
            if name not in told:
                self.add_error(name if name in self.fields else None, sentence)


class KeepOffForm(forms.Form):
    """The day on which it must not leave; empty takes it out."""

    day = forms.DateField(
        label="Not on this day itself",
        required=False,
        error_messages={"invalid": "Pick a day, or leave it empty to take it out."},
    )

    def __init__(self, *args: Any, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today

    def clean_day(self) -> date | None:
        """A day that is past keeps nothing back."""
        day: date | None = self.cleaned_data["day"]
        if day is not None and day < self.today:
            raise forms.ValidationError("That day is past. Pick one that is still to come.")
        return day


def _whole_shirts(count: int) -> str:
    return "The whole shirt is with it" if count == 1 else f"All {count} whole shirts are with it"
