"""A usable rectangle of a garment that serves as cloth."""

from __future__ import annotations

from typing import Any

from django import forms

from orders.forms.lengths import LengthField
from planner.units import INCH


class RectangleForm(forms.Form):
    """Where it lies on the garment, and how large it is without seams."""

    part = forms.CharField(
        label="Where it lies",
        max_length=40,
        widget=forms.TextInput(attrs={"list": "parts-of-garment"}),
        error_messages={"required": "Say where, such as left leg or sleeve."},
    )
    client_id = forms.CharField(max_length=64, required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, unit: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name, label, fault in (
            ("width", "Across the grain", "Measure across, between the seams."),
            ("length", "Along the grain", "Measure along, from hem to seam."),
        ):
            self.fields[name] = LengthField(
                label=label, unit=unit, least=INCH, most=80 * INCH, error_messages={"required": fault}
            )
