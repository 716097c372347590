"""What is counted and measured at the bench: pins and needles, the sides of the top, cloth that is left."""

from __future__ import annotations

from typing import Any

from django import forms

from orders.bench.needles import Count
from orders.bench.top_size import Measured
from orders.forms.lengths import LengthField
from planner.units import INCH

MOST_PINS = 2000
LONGEST_TOP = 200 * INCH
WORDS = {
    "across": "Across, through the middle",
    "down": "Down, through the middle",
    "top": "Top edge",
    "bottom": "Bottom edge",
    "left": "Left edge",
    "right": "Right edge",
}


class NeedlesForm(forms.Form):
    """How many pins and needles went out to a quilt, and how many came back."""

    needles_out = forms.IntegerField(label="Needles out", min_value=0, max_value=MOST_PINS)
    needles_back = forms.IntegerField(label="Needles back", min_value=0, max_value=MOST_PINS)
    pins_out = forms.IntegerField(label="Pins out", min_value=0, max_value=MOST_PINS)
    pins_back = forms.IntegerField(label="Pins back", min_value=0, max_value=MOST_PINS)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for field in self.fields.values():
            field.error_messages |= {
                "required": "Type a number, 0 where there were none.",
                "invalid": "Type a whole number.",
            }
            field.widget.attrs["inputmode"] = "numeric"

    @property
    def counted(self) -> Count:
        return Count(**self.cleaned_data)


class TopForm(forms.Form):
    """The sides of the top before its borders: the middle is needed, the edges tell whether it is wavy."""

    def __init__(self, *args: Any, unit: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name, words in WORDS.items():
            needed = name in ("across", "down")
            self.fields[name] = LengthField(
                unit=unit, label=words, required=needed, least=INCH, most=LONGEST_TOP,
                error_messages={"required": "Measure through the middle and type it, such as 48 3/8."},
            )  # fmt: skip

    @property
    def measured(self) -> Measured:
        return Measured(**self.cleaned_data)
