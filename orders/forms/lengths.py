"""A field for a length, typed and shown in the shop's unit."""

from __future__ import annotations

from typing import Any

from django import forms

from planner.problems import BadInput
from planner.units import parse_length, show_length


class LengthField(forms.CharField):
    """Takes `12 3/8` or `31.4 cm`; its value is whole ticks, `least` or more."""

    def __init__(self, *, unit: str, least: int = 0, most: int = 2**62, **kwargs: Any) -> None:
        kwargs.setdefault("max_length", 30)
        super().__init__(**kwargs)
        self.unit, self.least, self.most = unit, least, most
        self.widget.attrs.setdefault("inputmode", "text")

    def clean(self, value: Any) -> int | None:
        """Return ticks; what is finer than the ruler is refused with both neighbors named."""
        typed = super().clean(value)
        if not typed:
            return None
        try:
            ticks = parse_length(typed, unit=self.unit)
        except BadInput as fault:
            raise forms.ValidationError(fault.message) from fault
        if ticks < self.least:
            raise forms.ValidationError(f"This must be {show_length(self.least, unit=self.unit)} or more.")
        if ticks > self.most:
            most = show_length(self.most, unit=self.unit)
            raise forms.ValidationError(f"This is more than {most}. Look at it once more.")
        return ticks

    def prepare_value(self, value: Any) -> Any:
        """Show ticks as they would be typed, without the unit that stands at the end of the box."""
        if isinstance(value, int):
            return as_typed(value, self.unit)
        return value


def as_typed(ticks: int, unit: str) -> str:
    """Return a length as it would be typed in its unit; what the unit cannot show exactly names its own."""
    for own in dict.fromkeys((unit, "in", "cm", "mm")):
        shown = show_length(ticks, unit=own)
        if not shown.startswith("about "):
            return shown.removesuffix(f" {unit}") if own == unit else shown
    return show_length(ticks, unit=unit).removeprefix("about ").removesuffix(f" {unit}")
