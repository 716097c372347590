"""A field for two sides at once, and one for a length that may go either way."""

from __future__ import annotations

import re
from typing import Any

from django import forms

from orders.forms.lengths import LengthField, as_typed
from planner.problems import BadInput
from planner.units import Size, parse_length, show_length

_TIMES = re.compile(r"\s*(?:[x×✕*]|\bby\b)\s*", re.IGNORECASE)
_UNIT = re.compile(r"[a-z\"'″”′]+\.?$", re.IGNORECASE)


class SizeField(forms.CharField):
    """Takes `11×13`, `11 1/2 x 13` or `28 × 33 cm`, across first; its value is a Size, 0 × 0 for plain."""

    def __init__(self, *, unit: str, most: int, **kwargs: Any) -> None:
        kwargs.setdefault("max_length", 40)
        super().__init__(**kwargs)
        self.unit, self.most = unit, most
        self.widget.attrs.setdefault("inputmode", "text")

    def clean(self, value: Any) -> Size | None:
        """Return both sides; what is not two lengths is refused with an example."""
        typed = super().clean(value)
        if not typed:
            return None
        sides = _TIMES.split(typed.strip())
        if len(sides) != 2:
            raise forms.ValidationError("Type it as across × down, such as 11×13 or 11 1/2 x 13.")
        if unit := _UNIT.search(sides[1].strip()):
            sides[0] = sides[0] if _UNIT.search(sides[0].strip()) else f"{sides[0]} {unit[0]}"
        across, down = (self._side(side) for side in sides)
        if bool(across) != bool(down):
            raise forms.ValidationError("A print has both sides. Type 0×0 where there is none.")
        return Size(across, down)

    def _side(self, typed: str) -> int:
        try:
            ticks = parse_length(typed, unit=self.unit)
        except BadInput as fault:
            raise forms.ValidationError(fault.message) from fault
        if ticks > self.most:
            most = show_length(self.most, unit=self.unit)
            raise forms.ValidationError(f"This is more than {most}. Look at it once more.")
        return ticks

    def prepare_value(self, value: Any) -> Any:
        """Show a size as it would be typed."""
        if isinstance(value, Size):
            return f"{as_typed(value.width, self.unit)} × {as_typed(value.height, self.unit)}"
        return value


class WayField(LengthField):
    """A length that may go the other way: `-1/2` is half an inch to the left, or up."""

    def clean(self, value: Any) -> int | None:
        """Return ticks, below 0 for the other way."""
        typed = str(value or "").strip().replace("−", "-")
        if not typed:
            return 0
        back = typed.startswith("-")
        ticks = super().clean(typed.removeprefix("-"))
        return -(ticks or 0) if back else ticks

    def prepare_value(self, value: Any) -> Any:
        """Show it with its minus."""
        if isinstance(value, int) and value < 0:
            return f"-{as_typed(-value, self.unit)}"
        return super().prepare_value(value)
