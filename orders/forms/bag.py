"""A bag at the door: the count first, then who signs for it, then what is true of all of it."""

from __future__ import annotations

import json
from typing import Any

from django import forms

from orders.models import Bag

HAZARDS = [
    ("smoke", "Smoke"), ("pets", "Pet hair"), ("soiled", "Soiled"), ("mold", "Mold"), ("insects", "Insects"),
]  # fmt: skip
TOLD = ("washed_without_softener", "leftovers_back", "allergies", "notes")
MOST, MOST_SACKS = 500, 50
MOST_STROKES, MOST_POINTS, WIDE, HIGH = 200, 4000, 1000, 1000


class CountForm(forms.Form):
    """What is asked while she stands at the door."""

    count = forms.IntegerField(
        label="How many, counted together",
        required=False,
        help_text="Leave it empty while the bag stays sealed.",
        error_messages={
            "invalid": "Type a whole number, such as 12, or leave it empty while it stays sealed."
        },
    )
    brought_by = forms.CharField(
        label="Who brought it", max_length=120, error_messages={"required": "Type who brought or sent it."}
    )
    how = forms.ChoiceField(
        label="How it came",
        choices=[("hand", "By hand"), ("parcel", "By parcel")],
        widget=forms.RadioSelect,
        initial="hand",
        error_messages={"required": "Tap how it came."},
    )
    sacks = forms.IntegerField(
        label="Sacks or boxes",
        required=False,
        initial=1,
        min_value=1,
        max_value=MOST_SACKS,
        error_messages=dict.fromkeys(
            ("invalid", "min_value", "max_value"), f"Type how many, 1 to {MOST_SACKS}."
        ),
    )
    place = forms.CharField(label="Where it stands", max_length=60, required=False)
    seen = forms.MultipleChoiceField(
        label="What you see or smell", choices=HAZARDS, widget=forms.CheckboxSelectMultiple, required=False
    )

    PLAIN: tuple[str, ...] = ("count", "brought_by", "how", "sacks", "place")

    def clean_count(self) -> int | None:
        """A count is from one on; a sealed bag has none."""
        count: int | None = self.cleaned_data["count"]
        if count is not None and count < 1:
            raise forms.ValidationError("Type 1 or more, or leave it empty while the bag stays sealed.")
        if count is not None and count > MOST:
            raise forms.ValidationError(f"More than {MOST} is more than a bag. Count it once more.")
        return count

    def clean_sacks(self) -> int:
        """What nobody says otherwise of is one."""
        return self.cleaned_data["sacks"] or 1

    @property
    def facts(self) -> dict[str, Any]:
        """Return what was said as the fields of a bag."""
        said = self.cleaned_data
        return {name: said[name] for name in self.PLAIN} | {name: name in said["seen"] for name, _ in HAZARDS}

    @classmethod
    def of(cls, bag: Bag) -> dict[str, Any]:
        """Return a bag as the form shows it."""
        return {name: getattr(bag, name) for name in (*cls.PLAIN, "version")} | {
            "seen": [name for name, _ in HAZARDS if getattr(bag, name)]
        }


class ArrivalForm(CountForm):
    """A bag that comes in now, with a photo of the pile."""

    client_id = forms.CharField(max_length=64, required=False, widget=forms.HiddenInput)
    photo = forms.FileField(
        label="Photo of the pile",
        required=False,
        widget=forms.FileInput(attrs={"accept": "image/*", "capture": "environment"}),
        error_messages={"empty": "This file is empty. Choose the photo again."},
    )
    kept_photo = forms.IntegerField(widget=forms.HiddenInput, required=False)


class WholeBagForm(forms.Form):
    """What is true of the whole bag: told once, so that of each shirt only exceptions are."""

    washed_without_softener = forms.BooleanField(label="Washed, without softener", required=False)
    smoke = forms.BooleanField(label="Smoke in the house", required=False)
    pets = forms.BooleanField(label="Pets in the house", required=False)
    leftovers_back = forms.BooleanField(label="Leftovers go back", required=False)
    allergies = forms.CharField(label="Allergies, hers or yours", max_length=200, required=False)
    notes = forms.CharField(label="Notes", widget=forms.Textarea, required=False, max_length=2000)
    version = forms.IntegerField(widget=forms.HiddenInput, required=False)

    PLAIN = (*TOLD, "smoke", "pets")

    @property
    def facts(self) -> dict[str, Any]:
        """Return what was said as the fields of a bag."""
        return {name: self.cleaned_data[name] for name in self.PLAIN}

    @classmethod
    def of(cls, bag: Bag) -> dict[str, Any]:
        """Return a bag as the form shows it."""
        return {name: getattr(bag, name) for name in (*cls.PLAIN, "version")}


class BagForm(CountForm):
    """Everything that is known of a bag."""

    washed_without_softener = forms.BooleanField(label="Washed, without softener", required=False)
    leftovers_back = forms.BooleanField(label="Leftovers go back", required=False)
    allergies = forms.CharField(label="Allergies, hers or yours", max_length=200, required=False)
    notes = forms.CharField(label="Notes", widget=forms.Textarea, required=False, max_length=2000)
    version = forms.IntegerField(widget=forms.HiddenInput, required=False)

    PLAIN = (*CountForm.PLAIN, *TOLD)


class StrokesField(forms.CharField):
    """Lines drawn on the screen: a list of x, y, x, y … for each, in thousandths of the pad’s width."""

    widget = forms.HiddenInput

    def clean(self, value: Any) -> list[list[int]]:
        """Return the lines; none were drawn where there is nothing."""
        try:
            lines = json.loads(super().clean(value) or "[]")
        except (ValueError, RecursionError):
            lines = None
        if not self._can_be_drawn(lines):
            raise forms.ValidationError(
                "The lines were lost on the way. Sign once more, or type the name alone."
            )
        return lines

    def _can_be_drawn(self, lines: Any) -> bool:
        return (
            isinstance(lines, list)
            and len(lines) <= MOST_STROKES
            and all(isinstance(line, list) and len(line) % 2 == 0 for line in lines)
            and sum(map(len, lines)) <= 2 * MOST_POINTS
            and all(
                type(at) is int and 0 <= at <= (HIGH if n % 2 else WIDE)
                for line in lines
                for n, at in enumerate(line)
            )
        )


class SigningForm(forms.Form):
    """Both sign: with a finger, or by name alone."""

    handed_in = forms.CharField(
        label="Handed in by", max_length=120, error_messages={"required": "Type who handed it in."}
    )
    handed_in_strokes = StrokesField(required=False)
    received = forms.CharField(
        label="Received by", max_length=120, error_messages={"required": "Type who received it."}
    )
    received_strokes = StrokesField(required=False)
    count = forms.IntegerField(widget=forms.HiddenInput, required=False)
