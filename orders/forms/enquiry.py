"""Six questions of a first message, and the title that turns it into an order."""

from __future__ import annotations

from datetime import date
from typing import Any

from django import forms

from orders.customer.enquiries import RECKONED
from orders.forms.lengths import LengthField
from orders.models import Order
from orders.quilt.bed_sizes import bed_sizes
from planner.units import INCH

MOST_SHIRTS = 300
NOT_SAID, OWN = "", "own"
HOW_MANY = "Type roughly how many, such as 20."


class EnquiryForm(forms.Form):
    """Who, how to reach them, what and how many, how large, by when, and for what."""

    client_id = forms.CharField(max_length=64, required=False, widget=forms.HiddenInput)
    name = forms.CharField(
        label="Who asks", max_length=120, error_messages={"required": "Type a name, or what you call them."}
    )
    reach = forms.CharField(
        label="Text, phone or mail",
        max_length=120,
        error_messages={"required": "Type one way to reach them, so that you can answer."},
    )
    kind = forms.ChoiceField(
        label="What",
        choices=[("quilt", "Quilt"), ("wall", "Hanging"), ("pillow", "Pillow"), ("repair", "Repair")],
        widget=forms.RadioSelect,
        initial="quilt",
        error_messages={"required": "Tap what is wanted."},
    )
    shirts = forms.IntegerField(
        label="Shirts, roughly", error_messages=dict.fromkeys(("invalid", "required"), HOW_MANY)
    )
    needed_by = forms.DateField(
        label="Needed by", required=False, error_messages={"invalid": "Pick a day, or leave it empty."}
    )
    size = forms.ChoiceField(label="Size", required=False)
    occasion = forms.CharField(label="Occasion", max_length=120, required=False)
    memorial = forms.BooleanField(label="In memory of somebody", required=False)

    def __init__(self, *args: Any, unit: str, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today
        self.fields["shirts"].required = self["kind"].value() in RECKONED
        self.sizes = bed_sizes(unit)
        words = [(word, label) for word, (label, _) in self.sizes.items()]
        self.fields["size"] = forms.ChoiceField(
            label="Size",
            required=False,
            choices=[(NOT_SAID, "Not said yet"), *words, (OWN, "Another size")],
        )
        for name, label in (("width", "Across"), ("height", "Down")):
            self.fields[name] = LengthField(
                label=label,
                unit=unit,
                required=not self.is_bound or self["size"].value() == OWN,
                least=12 * INCH,
                most=150 * INCH,
                error_messages={"required": "Type the size, or pick another one above."},
            )

    def clean_shirts(self) -> int | None:
        """A count is a whole number of shirts, from one on."""
        shirts: int | None = self.cleaned_data["shirts"]
        if shirts is not None and shirts < 1:
            raise forms.ValidationError("At least one shirt. Type roughly how many, such as 20.")
        if shirts is not None and shirts > MOST_SHIRTS:
            raise forms.ValidationError(
                f"More than {MOST_SHIRTS} shirts make several quilts. Write one down here."
            )
        return shirts

    def clean_needed_by(self) -> date | None:
        """A day that is past is a slip of the finger."""
        day: date | None = self.cleaned_data["needed_by"]
        if day is not None and day < self.today:
            raise forms.ValidationError("This day is past. Pick the day it is needed by, or leave it empty.")
        return day

    @property
    def asked(self) -> dict[str, Any]:
        """Return what was asked as the fields of an enquiry."""
        said = self.cleaned_data
        names = ("name", "reach", "kind", "shirts", "needed_by", "occasion", "memorial")
        width, height = self._size(said)
        return {name: said[name] for name in names} | {"width": width, "height": height}

    def _size(self, said: dict[str, Any]) -> tuple[int | None, int | None]:
        if said["size"] == OWN:
            return said["width"], said["height"]
        if said["size"] == NOT_SAID:
            return None, None
        size = self.sizes[said["size"]][1]
        return size.width, size.height


class TitleForm(forms.Form):
    """What the maker calls the quilt, and the place as its second voice."""

    title = forms.CharField(
        label="What you call it", max_length=120, error_messages={"required": "Type what you call it."}
    )
    place = forms.CharField(
        label="Place", max_length=Order._meta.get_field("place").max_length, required=False
    )
