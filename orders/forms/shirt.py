"""The facts of a garment, one more photo of it, one more panel, and what happens to its line in the log."""

from __future__ import annotations

from typing import Any

from django import forms

from orders.bag import stretch
from orders.forms.lengths import LengthField
from orders.forms.shirt_words import FLAGS, SIDES
from orders.forms.told import PLAIN, ToldForm
from orders.models import Shirt
from planner.problems import BadInput
from planner.quilt import STRETCHES, THICKNESSES
from planner.units import INCH

MEASURED = ("stretch_from", "stretch_to")


class ShirtForm(ToldForm):
    """The facts of a garment."""

    kind = forms.CharField(
        label="What it is",
        max_length=40,
        widget=forms.TextInput(attrs={"list": "kinds"}),
        error_messages={"required": "Type what it is, such as tee or sweatshirt."},
    )
    team = forms.CharField(
        label="Team, school or group",
        max_length=40,
        required=False,
        help_text="Two fronts of one team side by side are pointed out in the layout.",
    )
    knit = forms.ChoiceField(
        label="Knit or woven", choices=[("knit", "Knit"), ("woven", "Woven")], widget=forms.RadioSelect
    )
    stretch = forms.ChoiceField(label="Stretch", choices=[(word, word.capitalize()) for word in STRETCHES])
    thickness = forms.ChoiceField(
        label="Thickness",
        choices=[(word, word.capitalize()) for word in THICKNESSES],
        widget=forms.RadioSelect,
    )
    flags = forms.MultipleChoiceField(
        label="To mind", choices=FLAGS, widget=forms.CheckboxSelectMultiple, required=False
    )
    version = forms.IntegerField(widget=forms.HiddenInput)

    STANDS = ("kind", "team", "stretch", "thickness", "flags", "version", *MEASURED, *PLAIN)

    def __init__(self, *args: Any, unit: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["wash"].required = True
        for name, label in (("stretch_from", "Cloth as it lies"), ("stretch_to", "Pulled by hand")):
            self.fields[name] = LengthField(label=label, unit=unit, required=False, most=80 * INCH)

    def clean(self) -> None:
        """Two lengths make a stretch, and its word follows from them."""
        super().clean()
        said = self.cleaned_data
        lies, pulled = said.get("stretch_from"), said.get("stretch_to")
        if (lies is None) != (pulled is None) and not {"stretch_from", "stretch_to"} & self.errors.keys():
            self.add_error("stretch_to" if pulled is None else "stretch_from", "Type both, or neither.")
        elif lies is not None and pulled is not None:
            try:
                said["stretch"] = stretch.word_of(stretch.per_cent(lies, pulled))
            except BadInput as fault:
                self.add_error(fault.field, fault.message)

    @property
    def facts(self) -> dict[str, Any]:
        """Return what was said as the fields of a shirt; flags this form does not know stay."""
        said = self.cleaned_data
        plain = {name: said[name] for name in self.STANDS if name != "version"}
        unread = {"label_read": False} if said["fibres"] is None else {}
        return plain | {"knit": said["knit"] == "knit"} | self.label | unread

    @classmethod
    def of(cls, shirt: Shirt, *, country: str) -> dict[str, Any]:
        """Return a shirt as the form shows it."""
        return {
            **{name: getattr(shirt, name) for name in cls.STANDS},
            "knit": "knit" if shirt.knit else "woven",
            **cls.label_of(shirt, country=country),
        }


class PhotoForm(forms.Form):
    """One more photo."""

    photo = forms.FileField(
        label="One more photo",
        widget=forms.FileInput(attrs={"accept": "image/*"}),
        error_messages={
            "required": "Choose a photo first.",
            "empty": "This file is empty. Choose the photo again.",
            "invalid": "Choose a photo first.",
        },
    )


class PanelChoiceForm(forms.Form):
    """Which side is kept as well."""

    side = forms.ChoiceField(
        label="One more panel", choices=SIDES, error_messages={"required": "Pick a side."}
    )


class StrikeForm(forms.Form):
    """Why a line is taken out of the log."""

    why = forms.CharField(
        label="Why it is taken out",
        max_length=120,
        help_text="Such as logged twice, or not a garment.",
        error_messages={"required": "Write why, so that the count can be followed."},
    )


class ApartForm(forms.Form):
    """Why a shirt is kept apart."""

    why = forms.ChoiceField(
        label="Keep it apart for",
        choices=[("smell", "Smell"), ("insects", "Insects"), ("soiled", "Soiled"), ("mold", "Mold")],
        widget=forms.RadioSelect,
        error_messages={"required": "Tap why.", "invalid_choice": "Tap why."},
    )


class SplitForm(forms.Form):
    """How many garments leave a group for a line of their own."""

    out = forms.IntegerField(
        label="Garments to take out",
        min_value=1,
        error_messages=dict.fromkeys(("required", "invalid", "min_value"), "Type how many, 1 or more."),
    )
