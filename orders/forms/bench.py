"""What is asked at the bench: a day to pin, the blocks of a pile and those left out of it."""

from __future__ import annotations

from datetime import date
from typing import Any
from uuid import uuid4

from django import forms

from orders.models import Block


class PinForm(forms.Form):
    day = forms.DateField(
        label="Pinned to",
        required=False,
        widget=forms.DateInput,
        error_messages={"invalid": "Give a day, such as 2027-04-15, or leave it empty to take the pin out."},
    )

    def __init__(self, *args: Any, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today

    def clean_day(self) -> date | None:
        day: date | None = self.cleaned_data["day"]
        if day is not None and day < self.today:
            raise forms.ValidationError("That day is past. Pin it to today or later.")
        return day


MOST_MINUTES = 100 * 60


class MinutesForm(forms.Form):
    """What a stage took all in all, told afterwards."""

    minutes = forms.IntegerField(
        label="Minutes at it, all in all", min_value=1, max_value=MOST_MINUTES,
        error_messages={"required": "Give minutes, such as 90, or say that nobody knows.",
                        "invalid": "Give whole minutes, such as 90.",
                        "min_value": "Give one minute or more, or say that nobody knows.",
                        "max_value": "That is more than a hundred hours. Give the minutes at it alone."},
    )  # fmt: skip


class PileForm(forms.Form):
    """`block` is each block that was shown in the pile, `but` those that are not done."""

    block = forms.TypedMultipleChoiceField(
        coerce=int, choices=[], error_messages={"required": "Nothing lies in this pile any more."}
    )
    but = forms.TypedMultipleChoiceField(coerce=int, choices=[], required=False)

    def __init__(self, *args: Any, blocks: list[int], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("block", "but"):
            self.fields[name].choices = [(pk, pk) for pk in blocks]  # type: ignore[attr-defined]

    def clean(self) -> None:
        if self.cleaned_data.get("block") and not self.done:
            raise forms.ValidationError("Every block of the pile is left out. Leave at least one in.")

    @property
    def done(self) -> list[int]:
        """Return the blocks that are done."""
        left_out = set(self.cleaned_data.get("but") or [])
        return [pk for pk in self.cleaned_data.get("block", []) if pk not in left_out]


class TapForm(PileForm):
    """A tap of the bench, from a page or a tablet’s queue; its blocks may be of several orders."""

    place = forms.ChoiceField(
        choices=[(place, place) for place in ("table", "iron", "ruler", "machine")],
        error_messages={"invalid_choice": "There is no such place at the bench.", "required": "Say where."},
    )
    client_id = forms.SlugField(max_length=50, required=False)

    def __init__(self, data: Any) -> None:
        wanted = [pk for pk in data.getlist("block") if pk.isdecimal() and len(pk) < 19]
        known = Block.objects.filter(pk__in=wanted).values_list("pk", flat=True)
        super().__init__(data, blocks=list(known))

    @property
    def tap_id(self) -> str:
        """Return what makes it the same tap when it comes again."""
        return self.cleaned_data.get("client_id") or str(uuid4())

    @property
    def first_fault(self) -> str:
        return str(next(iter(self.errors.values()))[0])
