"""A yes to cut: how it was said, which pieces it leaves out, whose names a shirt needs."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from django import forms

from orders.models import Consent, Shirt
from orders.yes.asking import Asking

HOWS = [(value, words.capitalize()) for value, words in Consent.How.choices if value != Consent.How.PAGE]


class HowForm(forms.Form):
    """How it was said; a message or a signed paper may come with its picture."""

    how = forms.ChoiceField(
        label="How it is said", choices=HOWS, widget=forms.RadioSelect, initial="person",
        error_messages={"required": "Tap how it was said.", "invalid_choice": "Tap how it was said."},
    )  # fmt: skip
    for_the_day = forms.BooleanField(label="For today only; it lapses at midnight", required=False)
    photo = forms.FileField(
        label="Picture of the message or the signed paper",
        required=False,
        widget=forms.FileInput(attrs={"accept": "image/*"}),
        error_messages={"empty": "This file is empty. Choose the photo again."},
    )
    kept_photo = forms.IntegerField(widget=forms.HiddenInput, required=False)


class PiecesForm(forms.Form):
    """Which pieces a yes is to: `piece` is each one that was shown, `but` those it leaves out."""

    piece = forms.TypedMultipleChoiceField(
        coerce=int, choices=[], widget=forms.MultipleHiddenInput,
        error_messages={"required": "Nothing is left to ask about. Look at the page again."},
    )  # fmt: skip
    but = forms.TypedMultipleChoiceField(
        coerce=int, choices=[], required=False, widget=forms.CheckboxSelectMultiple
    )

    def __init__(self, *args: Any, pieces: Iterable[int], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        choices = [(pk, pk) for pk in pieces]
        for name in ("piece", "but"):
            self.fields[name].choices = choices  # type: ignore[attr-defined]

    def clean(self) -> None:
        if self.cleaned_data.get("piece") and not self.agreed:
            raise forms.ValidationError("Every piece is left out, so there is no yes to write. Leave one in.")

    @property
    def agreed(self) -> list[int]:
        """Return the pieces it is a yes to."""
        left_out = set(self.cleaned_data.get("but") or [])
        return [pk for pk in self.cleaned_data.get("piece", []) if pk not in left_out]


class PileForm(PiecesForm, HowForm):
    """A yes to the pile at the table."""


class HerYesForm(PiecesForm):
    """A yes on the customer's page, with the name under it."""

    name = forms.CharField(
        label="Your name", max_length=120, error_messages={"required": "Type your name, as under a letter."},
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
    )  # fmt: skip


class NameForm(HowForm):
    """One name says yes to one piece."""

    name = forms.CharField(max_length=120, error_messages={"required": "Tap the name whose yes it is."})


class DeciderForm(forms.Form):
    """Whose yes counts."""

    name = forms.CharField(
        label="Whose yes counts", max_length=120,
        error_messages={"required": "Type the name of the one who decides."},
    )  # fmt: skip
    version = forms.IntegerField(widget=forms.HiddenInput)


class SinglyForm(forms.Form):
    """A shirt that is asked about by itself, and the names it needs."""

    shirt = forms.ChoiceField(
        label="Shirt",
        choices=[],
        error_messages={"required": "Choose the shirt.", "invalid_choice": "Choose the shirt."},
    )
    names = forms.CharField(
        label="Whose yes it needs", max_length=400, help_text="Every one of them; a comma between names.",
        error_messages={"required": "Name at least one person."},
    )  # fmt: skip
    why = forms.CharField(label="Why", max_length=200, required=False)
    for_the_day = forms.BooleanField(
        label="Only on the day it is cut; each yes lapses at midnight", required=False
    )

    def __init__(self, *args: Any, shirts: Iterable[Shirt], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["shirt"].choices = [(str(each.pk), f"Shirt {each}") for each in shirts]  # type: ignore[attr-defined]

    def clean_names(self) -> list[str]:
        names = [name.strip() for name in re.split(r"[,;\n]", self.cleaned_data["names"])]
        found = [name for name in names if name]
        if not found:
            raise forms.ValidationError("Name at least one person.")
        return found


def shirts_in(asking: Asking) -> list[Shirt]:
    """Return the shirts asked about, each once, by number."""
    pieces = [*(each.piece for each in asking.pile), *(each.asked.piece for each in asking.singles)]
    return list(dict.fromkeys(piece.shirt for piece in sorted(pieces, key=lambda each: each.shirt.number)))
