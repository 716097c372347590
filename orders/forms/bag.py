"""A bag at the door: the count first, then what is true of all of it."""

from __future__ import annotations

from typing import Any

from django import forms

from orders.models import Bag

HAZARDS = [
    ("smoke", "Smoke"), ("pets", "Pet hair"), ("soiled", "Soiled"), ("mold", "Mold"), ("insects", "Insects"),
]  # fmt: skip
MOST = 500


class BagForm(forms.Form):
    """What is asked of a bag, once it is here."""

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
    place = forms.CharField(label="Where it stands", max_length=60, required=False)
    washed_without_softener = forms.BooleanField(label="Washed, without softener", required=False)
    leftovers_back = forms.BooleanField(label="Leftovers go back", required=False)
    seen = forms.MultipleChoiceField(
        label="What you see or smell", choices=HAZARDS, widget=forms.CheckboxSelectMultiple, required=False
    )
    allergies = forms.CharField(label="Allergies, hers or yours", max_length=200, required=False)
    notes = forms.CharField(label="Notes", widget=forms.Textarea, required=False, max_length=2000)
    version = forms.IntegerField(widget=forms.HiddenInput, required=False)

    def clean_count(self) -> int | None:
        """A count is from one on; a sealed bag has none."""
        count: int | None = self.cleaned_data["count"]
        if count is not None and count < 1:
            raise forms.ValidationError("Type 1 or more, or leave it empty while the bag stays sealed.")
        if count is not None and count > MOST:
            raise forms.ValidationError(f"More than {MOST} is more than a bag. Count it once more.")
        return count

    @property
    def facts(self) -> dict[str, Any]:
        """Return what was said as the fields of a bag."""
        said = self.cleaned_data
        plain = ("count", "brought_by", "how", "place", "washed_without_softener", "leftovers_back",
                 "allergies", "notes")  # fmt: skip
        return {name: said[name] for name in plain} | {name: name in said["seen"] for name, _ in HAZARDS}

    @staticmethod
    def of(bag: Bag) -> dict[str, Any]:
        """Return a bag as the form shows it."""
        names = ("count", "brought_by", "how", "place", "washed_without_softener", "leftovers_back",
                 "allergies", "notes", "version")  # fmt: skip
        return {name: getattr(bag, name) for name in names} | {
            "seen": [name for name, _ in HAZARDS if getattr(bag, name)]
        }


class ArrivalForm(BagForm):
    """A bag that comes in now, with a photo of the pile."""

    client_id = forms.CharField(max_length=64, required=False, widget=forms.HiddenInput)
    photo = forms.FileField(
        label="Photo of the pile",
        required=False,
        widget=forms.FileInput(attrs={"accept": "image/*", "capture": "environment"}),
        error_messages={"empty": "This file is empty. Choose the photo again."},
    )
    kept_photo = forms.IntegerField(widget=forms.HiddenInput, required=False)
