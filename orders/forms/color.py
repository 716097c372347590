"""A field for a color; a browser always sends one, so the plain one stands for none."""

from __future__ import annotations

import re
from typing import Any

from django import forms

from orders.quilt.little_quilt import PLAIN

_COLOR = re.compile(r"#[0-9a-f]{6}")


class ColorField(forms.CharField):
    """Takes #rrggbb; its value is empty while nobody picked a color."""

    def __init__(self, **kwargs: Any) -> None:
        picker = forms.TextInput(attrs={"type": "color"})
        super().__init__(max_length=7, required=False, widget=picker, **kwargs)

    def clean(self, value: Any) -> str:
        """Return the color in small letters, or nothing."""
        color = str(super().clean(value)).lower()
        if color and not _COLOR.fullmatch(color):
            raise forms.ValidationError("Pick a color, or write it like #2350b0.")
        return "" if color == PLAIN.lower() else color

    def prepare_value(self, value: Any) -> Any:
        """Show the plain color where there is none."""
        return value or PLAIN.lower()
