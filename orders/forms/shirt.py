"""A shirt: three taps while it lies on the table, and its facts later."""

from __future__ import annotations

from typing import Any

from django import forms

from orders.fibres import parse_fibres, show_fibres
from orders.forms.shirt_words import FEELS, FLAGS, SIDES, WASHES
from orders.models import Shirt
from planner.problems import BadInput
from planner.quilt import STRETCHES, THICKNESSES


class LogForm(forms.Form):
    """What is tapped for one shirt, photo first."""

    client_id = forms.CharField(max_length=64, required=False, widget=forms.HiddenInput)
    number = forms.IntegerField(required=False, widget=forms.HiddenInput)
    photo = forms.FileField(
        label="Photo",
        required=False,
        widget=forms.FileInput(attrs={"accept": "image/*", "capture": "environment"}),
        error_messages={"empty": "This file is empty. Take the photo again."},
    )
    kind = forms.ChoiceField(
        label="What is it?",
        choices=[("cotton", "Cotton tee"), ("sport", "Sport tee"), ("other", "Something else")],
        widget=forms.RadioSelect,
        initial="cotton",
        error_messages={"required": "Tap what it is."},
    )
    keep = forms.ChoiceField(
        label="Which print do we keep?",
        choices=[("front", "Front"), ("back", "Back"), ("both", "Both")],
        widget=forms.RadioSelect,
        initial="front",
        error_messages={"required": "Tap which print is kept."},
    )
    feel = forms.ChoiceField(
        label="How does the print feel?",
        choices=FEELS,
        widget=forms.RadioSelect,
        initial="unknown",
        error_messages={"required": "Tap how it feels, or Not felt yet."},
    )

    def is_untouched(self) -> bool:
        """Say whether nothing was given: no photo, and every tap as it was offered."""
        said = self.cleaned_data
        return not said["photo"] and all(
            said[each] == self.fields[each].initial for each in ("kind", "keep", "feel")
        )


class ShirtForm(forms.Form):
    """The facts of a garment."""

    kind = forms.CharField(
        label="What it is",
        max_length=40,
        widget=forms.TextInput(attrs={"list": "kinds"}),
        error_messages={"required": "Type what it is, such as tee or sweatshirt."},
    )
    fibres = forms.CharField(
        label="Fibers, off its label",
        max_length=200,
        required=False,
        help_text="Such as 60/40 cotton polyester; empty when the label is gone.",
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
    wash = forms.ChoiceField(label="Washing", choices=WASHES)
    flags = forms.MultipleChoiceField(
        label="To mind", choices=FLAGS, widget=forms.CheckboxSelectMultiple, required=False
    )
    flaws = forms.CharField(
        label="Flaws seen", max_length=300, required=False, help_text="Stains, holes, cracks in the print."
    )
    story = forms.CharField(label="Its story", widget=forms.Textarea, required=False, max_length=4000)
    version = forms.IntegerField(widget=forms.HiddenInput)

    def clean_fibres(self) -> dict[str, str]:
        """Read the label."""
        try:
            return parse_fibres(self.cleaned_data["fibres"])
        except BadInput as fault:
            raise forms.ValidationError(fault.message) from fault

    @property
    def facts(self) -> dict[str, Any]:
        """Return what was said as the fields of a shirt; flags this form does not know stay."""
        said = {name: value for name, value in self.cleaned_data.items() if name != "version"}
        return said | {"knit": said["knit"] == "knit"}

    @staticmethod
    def of(shirt: Shirt) -> dict[str, Any]:
        """Return a shirt as the form shows it."""
        names = ("kind", "stretch", "thickness", "wash", "flags", "flaws", "story", "version")
        return {name: getattr(shirt, name) for name in names} | {
            "knit": "knit" if shirt.knit else "woven",
            "fibres": show_fibres(shirt.fibres),
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
